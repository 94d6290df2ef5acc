/** The areas of the workshop in the order of the rack on the left; only those that exist stand here. */
import Layers from '@lucide/svelte/icons/layers';
import CalendarRange from '@lucide/svelte/icons/calendar-range';
import ChartBar from '@lucide/svelte/icons/chart-bar-big';
import Disc3 from '@lucide/svelte/icons/disc-3';
import Anvil from '@lucide/svelte/icons/anvil';
import Clock from '@lucide/svelte/icons/clock';
import FileInput from '@lucide/svelte/icons/file-input';
import BookOpen from '@lucide/svelte/icons/notebook-text';
import Eye from '@lucide/svelte/icons/eye';
import Coins from '@lucide/svelte/icons/coins';
import Receipt from '@lucide/svelte/icons/receipt-text';
import Slice from '@lucide/svelte/icons/slice';
import Users from '@lucide/svelte/icons/users';
import CircleQuestionMark from '@lucide/svelte/icons/circle-question-mark';
import Compare from '@lucide/svelte/icons/git-compare-arrows';
import Wrench from '@lucide/svelte/icons/wrench';
import type { Component } from 'svelte';

export interface Area {
  /** First part of its addresses. */
  readonly id: string;
  readonly title: string;
  /** The key after `g` that goes there. */
  readonly key: string;
  readonly icon: Component<{ size?: number; 'aria-hidden'?: 'true' }>;
  /** Reached from other screens and by its key only; not hung on the rack. */
  readonly offRack?: true;
  /** Fetches its screens; the area reads `route.rest` for which one. */
  readonly load: () => Promise<{ readonly default: Component }>;
}

export const areas: readonly Area[] = [
  { id: 'bench', title: 'Bench', key: 'b', icon: Anvil, load: () => import('./bench/BenchArea.svelte') },
  { id: 'builds', title: 'Builds', key: 'u', icon: Slice, load: () => import('./builds/BuildsArea.svelte') },
  { id: 'stock', title: 'Stock', key: 's', icon: Layers, load: () => import('./stock/StockArea.svelte') },
  {
    id: 'consumables',
    title: 'Consumables',
    key: 'c',
    icon: Disc3,
    load: () => import('./consumables/ConsumablesArea.svelte'),
  },
  { id: 'hours', title: 'Hours', key: 'h', icon: Clock, load: () => import('./hours/HoursArea.svelte') },
  {
    id: 'orders',
    title: 'Order book',
    key: 'o',
    icon: BookOpen,
    load: () => import('./orders/OrdersArea.svelte'),
  },
  { id: 'buyers', title: 'Buyers', key: 'y', icon: Users, load: () => import('./buyers/BuyersArea.svelte') },
  {
    id: 'releases',
    title: 'First look',
    key: 'f',
    icon: Eye,
    load: () => import('./releases/ReleasesArea.svelte'),
  },
  {
    id: 'invoices',
    title: 'Invoices',
    key: 'i',
    icon: Receipt,
    load: () => import('./invoices/InvoicesArea.svelte'),
  },
  { id: 'money', title: 'Money', key: 'x', icon: Coins, load: () => import('./money/MoneyArea.svelte') },
  {
    id: 'margins',
    title: 'Margins',
    key: 'm',
    icon: ChartBar,
    load: () => import('./margins/MarginsArea.svelte'),
  },
  { id: 'year', title: 'Year', key: 'e', icon: CalendarRange, load: () => import('./year/YearArea.svelte') },
  {
    id: 'trials',
    title: 'Trials',
    key: 't',
    icon: Compare,
    load: () => import('./trials/TrialsArea.svelte'),
  },
  { id: 'ask', title: 'Ask', key: 'a', icon: CircleQuestionMark, load: () => import('./ask/AskArea.svelte') },
  {
    id: 'workshop',
    title: 'Workshop',
    key: 'w',
    icon: Wrench,
    load: () => import('./workshop/WorkshopArea.svelte'),
  },
  {
    id: 'imports',
    title: 'Bring in records',
    key: 'r',
    icon: FileInput,
    offRack: true,
    load: () => import('./imports/ImportsArea.svelte'),
  },
];
