/** What the ways come to, in words; and decisions as the contract answers them. */
import type { Decision, WayKind, WayRow } from '../../api/ways.ts';
import { wayWords } from '../../domain/ways-on.ts';
import type { decisionRows } from '../../storage/queries/ways.ts';

/** The advice, and how sure it is. */
export function sentenceOf(ways: readonly WayRow[]): string {
  const known = ways.filter((row) => row.missing === '');
  const [best, next] = known;
  if (best === undefined) return 'Nothing can be reckoned yet.';
  if (best.way === 'scrap')
    return 'Scrapping it loses least: every other way costs more in hours and material than it is likely to bring.';
  const from = Math.min(...best.stages.map((stage) => stage.from), Number.MAX_SAFE_INTEGER);
  const thin =
    best.stages.length > 0 && from === 0
      ? ' Some hours are the model’s usual ones: too few own knives to say.'
      : '';
  const close =
    next !== undefined && best.afterHoursMinor > 0 && next.afterHoursMinor * 10 >= best.afterHoursMinor * 9
      ? ` “${wayWords[next.way]}” comes close.`
      : '';
  return `“${wayWords[best.way]}” leaves most once your hours are paid at what they earn on other knives.${close}${thin}`;
}

/** A decision as it was kept. */
export const toDecision = (row: ReturnType<typeof decisionRows>[number]): Decision => ({
  id: row.id,
  on: row.on_date,
  chosen: row.chosen as WayKind,
  reason: row.reason,
  ways: JSON.parse(row.ways) as Decision['ways'],
});
