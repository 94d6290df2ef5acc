/**
 * Sizes of files: a warning from 301 lines, a mistake from 501; function sizes are the linter's business.
 * Excuses: switching a rule off for one line names the rule and says why; anything broader is a mistake. The linter
 * cannot check this itself, because such a comment would switch that very check off.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { filesUnder } from './fingerprint.mjs';
import { root } from './places.mjs';
import { say } from './say.mjs';

const warnFrom = 301;
const failFrom = 501;

/** Lines a person reads: the line break at the end of the file starts no further one. @param {string} text */
export const lineCount = (text) => text.replace(/\n$/, '').split('\n').length;

/**
 * Sorts files into those to look at and those that are too long.
 * @param {readonly { file: string, lines: number }[]} files
 */
export const judgeSizes = (files) => ({
  tooLong: files.filter(({ lines }) => lines >= failFrom),
  long: files.filter(({ lines }) => lines >= warnFrom && lines < failFrom),
});

const explained = /(?:es|ox)lint-disable-(?:next-)?line\s+[\w@/, -]+? -- \S/;

/**
 * Lines (from 1) that switch a check off too broadly or without saying why.
 * @param {string} text
 */
export const excuses = (text) =>
  text.split('\n').flatMap((line, index) => {
    const bare = /(?:es|ox)lint-disable/.test(line) && !explained.test(line);
    return bare || /@ts-(?:ignore|nocheck)/.test(line) ? [index + 1] : [];
  });

/** Files that may speak of excuses because they are about them. */
const aboutExcuses = ['build/check-files.mjs'];

/** @returns {number} exit code */
const main = () => {
  const sources = ['electron', 'renderer', 'migrations', 'tests', 'build']
    .flatMap((folder) => filesUnder(path.join(root, folder)))
    .filter((file) => /\.(ts|mts|mjs|svelte|css)$/.test(file))
    .map((file) => ({ file: path.relative(root, file), text: readFileSync(file, 'utf8') }))
    .map(({ file, text }) => ({
      file,
      lines: lineCount(text),
      excused: aboutExcuses.includes(file) ? [] : excuses(text),
    }));
  const { tooLong, long } = judgeSizes(sources);
  for (const { file, lines } of long) say(`look at: ${file} has ${String(lines)} lines (aim below 300)`);
  for (const { file, lines } of tooLong) say(`too long: ${file} has ${String(lines)} lines (at most 500)`);
  const excused = sources.flatMap(({ file, excused: lines }) =>
    lines.map((line) => `${file}:${String(line)}`),
  );
  for (const place of excused) say(`unexplained excuse: ${place}`);
  const sizes = sources.map(({ lines }) => lines).sort((a, b) => a - b);
  say(`${String(sizes.length)} files, median ${String(sizes[Math.floor(sizes.length / 2)] ?? 0)} lines`);
  return tooLong.length + excused.length === 0 ? 0 : 1;
};

if (process.argv[1] === fileURLToPath(import.meta.url)) process.exitCode = main();
