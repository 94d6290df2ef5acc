/** The use-cases of the rack in depth: which one answers which call. */
import type { rackEndpoints } from '../../api/rack.ts';
import type { Handlers } from '../handlers.ts';
import { labels } from './labels.ts';
import { papers } from './papers.ts';
import { trace } from './trace.ts';
import { valueMonths, valueOn } from './value.ts';

export const rackHandlers: Pick<Handlers, keyof typeof rackEndpoints> = {
  'rack.trace': trace,
  'rack.valueOn': valueOn,
  'rack.valueMonths': valueMonths,
  'rack.labels': labels,
  'rack.papers': papers,
};
