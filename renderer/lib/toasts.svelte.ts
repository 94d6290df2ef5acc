/** Short messages at the edge of the screen, read out politely; some can take back what was just done. */
import type { Fault } from '../../electron/api/errors.ts';

export interface Toast {
  readonly id: number;
  readonly text: string;
  readonly tone: 'said' | 'fault';
  readonly undo: (() => void) | undefined;
  /** What was tried, for a fault; its later success takes the fault away. */
  readonly about?: string;
}

const shownFor = { said: 6000, undo: 12_000 };

class Toasts {
  list = $state.raw<readonly Toast[]>([]);
  #next = 1;

  /** Says that something is done. @param undo takes it back */
  say(text: string, undo?: () => void): void {
    const id = this.#add(text, 'said', undo);
    setTimeout(() => this.drop(id), undo === undefined ? shownFor.said : shownFor.undo);
  }

  /** Says that something went wrong; stays until it is closed, or until what was tried succeeds. @param about what was tried */
  fault(fault: Fault, about?: string): void {
    this.#add(fault.message, 'fault', undefined, about);
  }

  /** Takes away the faults of what has succeeded now. */
  settle(about: string): void {
    this.list = this.list.filter((toast) => toast.about !== about);
  }

  drop(id: number): void {
    this.list = this.list.filter((toast) => toast.id !== id);
  }

  #add(text: string, tone: Toast['tone'], undo: (() => void) | undefined, about?: string): number {
    const id = this.#next++;
    this.list = [
      ...this.list.filter((toast) => toast.text !== text).slice(-3),
      { id, text, tone, undo, ...(about === undefined ? {} : { about }) },
    ];
    return id;
  }
}

export const toasts = new Toasts();
