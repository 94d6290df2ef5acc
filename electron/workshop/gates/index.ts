/** Use-cases of the gates: which one answers which call. */
import type { gateEndpoints } from '../../api/gates.ts';
import type { Handlers } from '../handlers.ts';
import { check, forBuild, list, voidOne } from './checks.ts';
import { dropTarget, saveTarget, targets } from './targets.ts';

export const gateHandlers: Pick<Handlers, keyof typeof gateEndpoints> = {
  'gates.targets': targets,
  'gates.saveTarget': saveTarget,
  'gates.dropTarget': dropTarget,
  'gates.forBuild': forBuild,
  'gates.check': check,
  'gates.void': voidOne,
  'gates.list': list,
};
