/** An engine's thread that says early that the books are open, and fails before it can answer anything. */
import { serve } from '../../../electron/workshop/engine-serve.ts';

await serve(
  async (opened) => {
    opened();
    await new Promise((resolve) => setTimeout(resolve, 50));
    throw new Error('What works on the books could not be loaded');
  },
  () => Promise.resolve(),
);
