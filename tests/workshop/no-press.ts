/** A printer that refuses papers. */
import type { Renderer } from '../../electron/workshop/context.ts';

/**
 * @param why said with each refusal
 * @param able the papers it does print
 */
export const noPress = (why: string, able: Partial<Renderer> = {}): Renderer =>
  new Proxy(able as Renderer, {
    get: (target, kind) =>
      (kind in target ? Reflect.get(target, kind) : () => Promise.reject(new Error(why))) as unknown,
  });
