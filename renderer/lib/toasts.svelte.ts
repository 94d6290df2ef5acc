/** Short messages at the edge of the screen, read out politely; some can take back what was just done. */
import type { Fault } from '../../electron/api/errors.ts';

/** What can be done about a message, as its button. */
interface ToastWay {
  readonly label: string;
  readonly run: () => void;
}

export interface Toast {
  readonly id: number;
  readonly text: string;
  readonly tone: 'said' | 'fault';
  readonly way: ToastWay | undefined;
  /** What was tried, for a fault; its later success takes the fault away. */
  readonly about?: string;
}

/** In milliseconds; hands at the bench are seldom free at once. */
const shownFor = { said: 6000, undo: 12_000, offer: 30_000 };

class Toasts {
  list = $state.raw<readonly Toast[]>([]);
  #next = 1;

  /** Says that something is done. @param undo takes it back */
  say(text: string, undo?: () => void): void {
    const id = this.#add(text, 'said', undo && { label: 'Take back', run: undo });
    setTimeout(() => this.drop(id), undo === undefined ? shownFor.said : shownFor.undo);
  }

  /** Says that something is done, and what can be done next in one touch. */
  offer(text: string, way: ToastWay): void {
    const id = this.#add(text, 'said', way);
    setTimeout(() => this.drop(id), shownFor.offer);
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

  #add(text: string, tone: Toast['tone'], way: ToastWay | undefined, about?: string): number {
    const id = this.#next++;
    this.list = [
      ...this.list.filter((toast) => toast.text !== text).slice(-3),
      { id, text, tone, way, ...(about === undefined ? {} : { about }) },
    ];
    return id;
  }
}

export const toasts = new Toasts();
