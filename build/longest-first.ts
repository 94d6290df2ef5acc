/** The order of the files of tests: a long one that begins last would leave the other processes with nothing to do. */
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Files that run long though they are short, or longest of all; the rest goes by size, as is usual. */
const long = [
  'tests/e2e/tour-one.test.ts',
  'tests/e2e/tour-two.test.ts',
  'tests/e2e/newcomer.test.ts',
  'tests/e2e/own-books.test.ts',
  'tests/e2e/demo.test.ts',
];

const placeOf = ({ moduleId }: TestSpecification): number => {
  const place = long.findIndex((file) => moduleId.endsWith(file));
  return place === -1 ? long.length : place;
};

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const bySize = await super.sort(files);
    return bySize.toSorted((one, other) => placeOf(one) - placeOf(other));
  }
}
