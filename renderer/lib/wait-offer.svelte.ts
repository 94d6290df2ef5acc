/** After a stage is stopped: the wait that usually follows it, offered once, on whatever screen one stands. */
import type { SessionRow } from '../../electron/api/hours.ts';
import { usualAfter } from '../../electron/domain/waits.ts';
import type { UsualWait } from '../../electron/domain/waits.ts';
import { stoppedText } from './format.ts';
import { sayBooked } from './stage-done.ts';

export interface WaitOffer {
  readonly stageCode: string;
  readonly stageName: string;
  readonly builds: readonly { readonly id: string; readonly serial: string }[];
  readonly makingId: string | null;
  readonly makingTitle: string | null;
  readonly usual: readonly UsualWait[];
}

class Offers {
  now = $state.raw<WaitOffer>();

  /** Offers what usually follows the stage of a booked session, and withdraws an older offer. */
  after(booked: SessionRow | null): void {
    const usual = usualAfter(booked?.stageCode ?? null);
    if (booked?.stageCode == null || usual.length === 0) {
      this.now = undefined;
      return;
    }
    const { stageCode, stageName, makingId, makingTitle } = booked;
    const builds = booked.shares.map((share) => ({ id: share.buildId, serial: share.serial }));
    this.now = { stageCode, stageName: stageName ?? stageCode, builds, makingId, makingTitle, usual };
  }
}

export const offers = new Offers();

/** Says what a stopped clock has booked, and offers the wait that usually follows. */
export const sayStopped = (booked: SessionRow | null): void => {
  void sayBooked(stoppedText(booked), booked);
  offers.after(booked);
};
