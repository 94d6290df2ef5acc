/** Sales, July 2024 to December 2025. */
import type { BuyerKey } from './people.ts';

export interface DemoSale {
  readonly on: string;
  readonly serial: string;
  readonly buyer: BuyerKey;
  /** Where it was not the list price of the day. */
  readonly price?: string;
  /** Made to order: delivered, with its deposit taken off. */
  readonly order?: string;
}

export const sales: readonly DemoSale[] = [
  { on: '2024-08-06', serial: 'W01', buyer: 'C01' },
  { on: '2024-08-09', serial: 'W02', buyer: 'C02' },
  { on: '2024-08-25', serial: 'W03', buyer: 'C03' },
  { on: '2024-09-24', serial: 'W04', buyer: 'C04' },
  { on: '2024-10-02', serial: 'W05', buyer: 'C05' },
  { on: '2024-10-21', serial: 'W06', buyer: 'C06' },
  { on: '2024-10-29', serial: 'W07', buyer: 'C07' },
  { on: '2024-11-11', serial: 'W08', buyer: 'C08' },
  { on: '2024-11-14', serial: 'W09', buyer: 'C02' },
  { on: '2024-11-29', serial: 'W10', buyer: 'C11' },
  { on: '2024-12-10', serial: 'W11', buyer: 'C09', order: 'P1' },
  { on: '2024-12-12', serial: 'W12', buyer: 'C10', order: 'P2' },
  { on: '2024-12-30', serial: 'W13', buyer: 'C12' },
  { on: '2025-01-07', serial: 'W14', buyer: 'C13' },
  { on: '2025-01-19', serial: 'W15', buyer: 'C14' },
  { on: '2025-03-14', serial: 'W19', buyer: 'C15' },
  { on: '2025-03-14', serial: 'W20', buyer: 'C04' },
  { on: '2025-03-14', serial: 'W16', buyer: 'C16' },
  { on: '2025-03-15', serial: 'W21', buyer: 'C17' },
  { on: '2025-03-15', serial: 'W17', buyer: 'C08' },
  { on: '2025-03-16', serial: 'W23', buyer: 'C01' },
  { on: '2025-03-16', serial: 'W22', buyer: 'C18' },
  { on: '2025-03-18', serial: 'W18', buyer: 'C19' },
  { on: '2025-03-25', serial: 'W24', buyer: 'C20' },
  { on: '2025-05-20', serial: 'W26', buyer: 'C21', order: 'P3' },
  { on: '2025-05-28', serial: 'W27', buyer: 'C22' },
  { on: '2025-06-09', serial: 'W25', buyer: 'C23' },
  { on: '2025-07-08', serial: 'W31', buyer: 'C24', price: '540.00', order: 'P4' },
  { on: '2025-07-10', serial: 'W29', buyer: 'C25', price: '1280.00', order: 'P5' },
  { on: '2025-08-14', serial: 'W35', buyer: 'C26', price: '420.00', order: 'P6' },
  { on: '2025-08-20', serial: 'W34', buyer: 'C27', price: '185.00' },
  { on: '2025-10-17', serial: 'W30', buyer: 'C15', price: '1350.00' },
  { on: '2025-10-17', serial: 'W39', buyer: 'C28' },
  { on: '2025-10-17', serial: 'W33', buyer: 'C16' },
  { on: '2025-10-18', serial: 'W32', buyer: 'C25', price: '780.00' },
  { on: '2025-10-19', serial: 'W36', buyer: 'C29' },
  { on: '2025-10-21', serial: 'W41', buyer: 'C30' },
];

export const channelName = 'Own website';
