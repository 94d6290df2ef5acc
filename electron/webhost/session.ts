/** One-time codes and the secret of this run. The clock comes in, so that expiry can be tried out. */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** How long an address that was handed out may be used. */
export const codeLifeMs = 30_000;

export interface Session {
  /** Makes a code that may be exchanged once within `codeLifeMs`; an earlier unused one dies. */
  issueCode(): string;
  /** Exchanges a code for the secret of this run. */
  redeem(code: string): string | undefined;
  /** True when a page shows the secret of this run. */
  knows(secret: string | undefined): boolean;
}

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/** Compares without giving away, by time, how much was right; hashing first makes the lengths equal. */
export const sameSecret = (a: string, b: string): boolean => timingSafeEqual(digest(a), digest(b));

/** @param now milliseconds, steadily rising; @param onRedeemed called when a code has been used */
export const createSession = (now: () => number, onRedeemed: () => void = () => undefined): Session => {
  const secret = randomBytes(32).toString('base64url');
  let open: { readonly code: string; readonly until: number } | undefined;
  return {
    issueCode() {
      const code = randomBytes(24).toString('base64url');
      open = { code, until: now() + codeLifeMs };
      return code;
    },
    redeem(code) {
      const candidate = open;
      if (candidate === undefined || !sameSecret(code, candidate.code)) return undefined;
      open = undefined;
      if (now() > candidate.until) return undefined;
      onRedeemed();
      return secret;
    },
    knows: (shown) => shown !== undefined && sameSecret(shown, secret),
  };
};
