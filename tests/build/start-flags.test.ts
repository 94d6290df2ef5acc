import { describe, expect, it } from 'vitest';
import { parseStartFlags, startHelp } from '../../build/flags.mjs';
import { PlainFailure } from '../../build/say.mjs';

const nothing = { help: false, host: undefined, noOpen: false, passedOn: [] };

const refusal = (words: string[]): unknown => {
  try {
    parseStartFlags(words);
  } catch (error) {
    if (error instanceof PlainFailure) return { message: error.message, exitCode: error.exitCode };
    throw error;
  }
  return 'accepted';
};

describe('words after npm start', () => {
  it.each([
    [[], nothing],
    [['--help'], { ...nothing, help: true }],
    [['-h'], { ...nothing, help: true }],
    [['--demo'], { ...nothing, passedOn: ['--demo'] }],
    [['--data', '/tmp/my shop'], { ...nothing, passedOn: ['--data', '/tmp/my shop'] }],
    [['--data=/tmp/my=shop'], { ...nothing, passedOn: ['--data', '/tmp/my=shop'] }],
    [['--no-open'], { ...nothing, noOpen: true, passedOn: ['--no-open'] }],
    [['--host', 'desktop'], { ...nothing, host: 'desktop' }],
    [
      ['--host=loopback', '--demo', '--no-open'],
      { help: false, host: 'loopback', noOpen: true, passedOn: ['--demo', '--no-open'] },
    ],
  ])('reads %j', (words, expected) => {
    expect(parseStartFlags(words)).toEqual(expected);
  });

  it.each([
    [['--dmeo'], '“--dmeo” is not known here.'],
    [['demo'], '“demo” is not known here.'],
    [['--data'], '--data needs a value after it.'],
    [['--data', '--demo'], '--data needs a value after it.'],
    [['--data='], '--data needs a value after it.'],
    [['--host', 'window'], '--host must be desktop or loopback, not “window”.'],
    [['--no-open', '--host', 'desktop'], '--no-open and --host desktop contradict each other.'],
  ])('refuses %j with a sentence and exit code 2', (words, sentence) => {
    expect(refusal(words)).toEqual({ message: `${sentence}\n\n${startHelp}`, exitCode: 2 });
  });
});
