/** Turns a heat-treat record into finished text for the paper. */
import type { Heat } from '../../api/heats.ts';
import type { HeatPaper } from '../../documents/types.ts';
import { minutesText } from '../../domain/durations.ts';
import { measureWords } from '../../domain/gates.ts';
import { stepWords } from '../../domain/heat-treatment.ts';
import { decimalText, rational } from '../../domain/rational.ts';
import { formatTemperature } from '../../domain/temperature.ts';
import { pdfOut } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { heatById } from './records.ts';

const verdictWords = { pass: 'passed', rework: 'rework', fail: 'failed' } as const;

const stepsOf = ({ steps }: Heat): HeatPaper['steps'] =>
  steps.map((step) => {
    const celsius = step.tempMilliC === null ? null : rational(step.tempMilliC, 1000);
    return {
      label: stepWords[step.kind],
      note: step.note,
      celsius: celsius === null ? '' : formatTemperature(celsius, 'C'),
      fahrenheit: celsius === null ? '' : formatTemperature(celsius, 'F'),
      time: step.minutes === 0 ? '' : minutesText(step.minutes),
    };
  });

const factsOf = (heat: Heat): HeatPaper['facts'] =>
  [
    { label: 'Day', text: heat.on },
    { label: 'Batch', text: heat.batch },
    { label: 'Recipe', text: heat.recipeName ?? '' },
    { label: 'Heated in', text: heat.fireName ?? '' },
    { label: 'Quenched in', text: heat.bathName ?? '' },
  ].filter((fact) => fact.text !== '');

/** The tempering parameter as a sentence; null without a temper. */
const parameterWords = ({ temperParameterMilli }: Heat): string | null =>
  temperParameterMilli === null
    ? null
    : `Tempering parameter (Hollomon–Jaffe, hours, C = 20): ${decimalText(temperParameterMilli, 3)}. It compares tempers of one steel and foretells no hardness.`;

/** The record of one heat treatment on paper. */
export const recordPdf: HandlerFor<'heats.recordPdf'> = async (ctx, { id }) => {
  const heat = heatById(ctx, id);
  const { shop } = houseOf(ctx.db);
  const remarks = [parameterWords(heat), heat.note === '' ? null : heat.note];
  const paper: HeatPaper = {
    size: shop.paper === 'A4' ? 'A4' : 'Letter',
    language: 'en',
    madeAt: ctx.clock.now(),
    workshopName: shop.name,
    title: 'Heat treatment',
    tag: heat.tag,
    name:
      heat.recipeName ?? (heat.batch === '' ? heat.builds.map((one) => one.serial).join(', ') : heat.batch),
    facts: factsOf(heat),
    steps: stepsOf(heat),
    knives: heat.builds.map((one) => ({ serial: one.serial, name: one.title })),
    checks: heat.checks.map((check) => ({
      knife: check.serial,
      on: check.on,
      what: measureWords[check.measure],
      found: check.words,
      verdict: verdictWords[check.verdict],
    })),
    remarks: remarks.flatMap((remark) => remark ?? []),
    cautions: heat.cautions,
  };
  return pdfOut(`Heat treatment ${heat.tag}`, await ctx.renderer.heat(paper));
};
