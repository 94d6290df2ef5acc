/** Two pages of one program follow each other; expected by reasoning alone, no outside source. */
import { expect, it, vi } from 'vitest';
import type { Reply } from '../../electron/api/errors.ts';
import { createClient } from '../../renderer/lib/client.ts';
import { act } from '../../renderer/lib/form.svelte.ts';
import { shop } from '../../renderer/lib/shop.svelte.ts';
import { followTabs } from '../../renderer/lib/tabs.ts';
import type { TabLine } from '../../renderer/lib/tabs.ts';
import { unsaved } from '../../renderer/lib/unsaved.svelte.ts';

/** Lines that reach every other one of the same wire, like a `BroadcastChannel`. */
const wire = (): { line: () => TabLine; said: unknown[] } => {
  const ears: { readonly of: TabLine; readonly hear: (event: { readonly data: unknown }) => void }[] = [];
  const said: unknown[] = [];
  const line = (): TabLine => {
    const self: TabLine = {
      postMessage(data) {
        said.push(data);
        for (const ear of ears) if (ear.of !== self) ear.hear({ data });
      },
      addEventListener: (_type, hear) => void ears.push({ of: self, hear }),
    };
    return self;
  };
  return { line, said };
};

const page = (line: TabLine, seqs: readonly number[]) => {
  const left = [...seqs];
  const client = createClient({
    invoke: (): Promise<Reply> => Promise.resolve({ ok: true, value: [], seq: left.shift() ?? 0 }),
  });
  followTabs(client, line);
  const heard: number[] = [];
  client.onSeq((seq) => heard.push(seq));
  return { client, heard };
};

it('asks again in every tab when one has changed the books, and tells nobody twice', async () => {
  const { line, said } = wire();
  const one = page(line(), [4, 5]);
  const two = page(line(), [4, 5]);
  await one.client.call('stock.suppliers', {});
  await two.client.call('stock.suppliers', {});
  await one.client.call('stock.saveSupplier', { name: 'Fenny Steel' });
  expect([one.heard, two.heard, said]).toEqual([[5], [5], [{ seq: 5, otherBooks: false }]]);
  // What it then asks for shows the same state and is no news.
  await two.client.call('stock.suppliers', {});
  expect([two.heard, said.length]).toEqual([[5], 1]);
});

it('follows into other books and counts anew, and is deaf to what is no such message', async () => {
  const { line } = wire();
  const odd = line();
  const one = page(line(), [50, 0]);
  const two = page(line(), [50, 2, 3]);
  await one.client.call('stock.suppliers', {});
  await two.client.call('stock.suppliers', {});
  for (const data of [undefined, 'x', { seq: 'x', otherBooks: false }, { seq: 99 }]) odd.postMessage(data);
  expect(two.heard).toEqual([]);
  await one.client.call('host.openDemo', {});
  await two.client.call('stock.suppliers', {});
  await two.client.call('stock.suppliers', {});
  expect(two.heard).toEqual([0, 3]);
});

it('holds back what is half-written while another tab has other books open, and lets nothing of it into those', async () => {
  const { line } = wire();
  const away = line();
  let folder = 'own';
  const asked: string[] = [];
  const client = createClient({
    invoke: (endpoint): Promise<Reply> => {
      asked.push(endpoint);
      if (endpoint === 'host.openOwn') folder = 'own';
      return Promise.resolve({ ok: true, value: { folder, demo: folder !== 'own' }, seq: 7 });
    },
  });
  followTabs(client, line());
  shop.connect(client);
  await shop.load();
  const written = vi.spyOn(unsaved, 'any').mockReturnValue(true);
  const follow = async (to: string): Promise<void> => {
    folder = to;
    away.postMessage({ seq: 0, otherBooks: true });
    await vi.waitFor(() => expect(shop.held).toBe(true));
    asked.length = 0;
  };
  await follow('demo');
  expect([shop.held, shop.asking, shop.host?.folder]).toEqual([true, true, 'own']);
  shop.asking = false;
  expect(await act('stock.saveSupplier', { name: 'Fenny Steel' })).toBeUndefined();
  expect([shop.asking, asked]).toEqual([true, []]);
  await shop.backToHeld();
  expect([shop.held, folder, asked[0]]).toEqual([false, 'own', 'host.openOwn']);
  // Thrown away, the page goes where the other tab went.
  await follow('demo');
  vi.spyOn(unsaved, 'forget').mockImplementation(() => void written.mockReturnValue(false));
  await shop.letHeldGo();
  expect([shop.held, shop.host?.folder]).toEqual([false, 'demo']);
  vi.restoreAllMocks();
  shop.state = shop.host = undefined;
});
