/**
 * The shape of the contract between the workshop core and whatever shows it.
 * An endpoint is a zod schema for what goes in and a TypeScript type for what comes out;
 * the renderer's client, the preload, Electron IPC and `POST /rpc` all derive from the one list in `contract.ts`.
 */
import type { z } from 'zod';

/** A query reads; a command changes the books and appends exactly one journal entry. */
export type EndpointKind = 'query' | 'command';

export interface Endpoint<I extends z.ZodType = z.ZodType, O = unknown> {
  readonly kind: EndpointKind;
  readonly input: I;
  /** Phantom: carries the output type and is never present at run time. */
  readonly output?: O;
}

/** Declares a read-only endpoint: `query(schema)<Output>()`. */
export const query =
  <I extends z.ZodType>(input: I) =>
  <O>(): Endpoint<I, O> & { readonly kind: 'query' } => ({ kind: 'query', input });

/** Declares an endpoint that changes the books: `command(schema)<Output>()`. */
export const command =
  <I extends z.ZodType>(input: I) =>
  <O>(): Endpoint<I, O> & { readonly kind: 'command' } => ({ kind: 'command', input });

/** What a caller may pass (before defaults are filled in). */
export type InputOf<E> = E extends Endpoint<infer I> ? z.input<I> : never;
/** What a handler receives (after parsing). */
export type ParsedOf<E> = E extends Endpoint<infer I> ? z.output<I> : never;
/** What a handler returns and a caller gets. */
export type OutputOf<E> = E extends { readonly output?: infer O } ? Exclude<O, undefined> : never;
