import fs from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fileTrouble, kindOfFile, MOST_FILE_BYTES } from '../../electron/domain/file-kinds.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, type Shelf, stockShelf } from './shelf.ts';

const bytesOf = (text: string): Buffer => Buffer.from(text, 'latin1');
const base64 = (text: string): string => bytesOf(text).toString('base64');

const png = '\x89PNG\r\n\x1a\n a picture of a blade';
const jpeg = '\xff\xd8\xff\xe0 a small one';
const pdf = '%PDF-1.7 a mill certificate';

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

const photo = (ownerId: string, over: object = {}) => ({
  ownerKind: 'build' as const,
  ownerId,
  role: 'photo' as const,
  name: 'blade.png',
  base64: base64(png),
  ...over,
});

describe('what a file is', () => {
  it.each([
    [png, 'image/png'],
    [jpeg, 'image/jpeg'],
    ['GIF87a...', 'image/gif'],
    ['GIF89a...', 'image/gif'],
    ['RIFF\x10\x00\x00\x00WEBPVP8 ', 'image/webp'],
    ['\x00\x00\x00\x18ftypheic....', 'image/heic'],
    [pdf, 'application/pdf'],
    ['RIFF\x10\x00\x00\x00WAVEfmt ', undefined],
    ['<svg xmlns="http://www.w3.org/2000/svg"/>', undefined],
    ['\xff\xd8', undefined],
    ['', undefined],
  ])('is told by its first bytes, not by its name (%#)', (text, mime) => {
    expect(kindOfFile(bytesOf(text))?.mime).toBe(mime);
  });
});

describe('pinning files', () => {
  it('keeps a photo beside the books, shows it on the knife, and reads it back byte for byte', async () => {
    const knife = first(await shelf.plan());
    const pinned = await rig.call(
      'files.attach',
      photo(knife, { caption: 'before etching', thumbBase64: base64(jpeg) }),
    );
    expect(pinned).toEqual({
      id: pinned.id,
      ownerKind: 'build',
      ownerId: knife,
      role: 'photo',
      name: 'blade.png',
      mime: 'image/png',
      bytes: png.length,
      caption: 'before etching',
      addedAt: '2024-07-06T12:00:00.000Z',
      hasThumb: true,
    });
    const full = await rig.call('files.read', { id: pinned.id, size: 'full' });
    const thumb = await rig.call('files.read', { id: pinned.id, size: 'thumb' });
    expect(full).toEqual({ mime: 'image/png', name: 'blade.png', base64: base64(png) });
    expect(thumb).toEqual({ mime: 'image/jpeg', name: 'blade.png', base64: base64(jpeg) });
    const build = await rig.call('builds.get', { id: knife });
    expect([build.photoId, build.attachments]).toEqual([pinned.id, [pinned]]);
  });

  it('takes the kind from the bytes when the name says otherwise', async () => {
    const pinned = await rig.call(
      'files.attach',
      photo(shelf.itemIds.bar, { ownerKind: 'item', role: 'paper', name: 'blade.png', base64: base64(pdf) }),
    );
    expect(pinned.mime).toBe('application/pdf');
    // No small picture was made, so the whole one answers for it.
    expect((await rig.call('files.read', { id: pinned.id, size: 'thumb' })).base64).toBe(base64(pdf));
  });

  it('refuses what is no picture and no PDF, a paper as a photo, an empty file and an unknown owner', async () => {
    const knife = first(await shelf.plan());
    const before = wholeBooks(rig.db);
    const svg = '<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>';
    const faults = [
      await rig.fault('files.attach', photo(knife, { base64: base64(svg), name: 'mark.svg' })),
      await rig.fault('files.attach', photo(knife, { base64: base64(pdf) })),
      await rig.fault('files.attach', photo(knife, { base64: '' })),
      await rig.fault('files.attach', photo('nobody')),
      await rig.fault('files.attach', photo(knife, { thumbBase64: base64(pdf) })),
      await rig.fault('files.attach', photo(knife, { base64: 'not base64!' })),
    ];
    expect(faults.map((fault) => [fault.kind, fault.field])).toEqual([
      ['refused', 'base64'],
      ['refused', 'role'],
      ['invalid', 'base64'],
      ['missing', undefined],
      ['invalid', 'thumbBase64'],
      ['invalid', 'base64'],
    ]);
    expect(faults[0]?.message).toBe(
      'mark.svg is not a picture or a PDF that is kept here. Use PNG, JPEG, WebP, GIF, HEIC or PDF.',
    );
    expect(wholeBooks(rig.db)).toEqual(before);
  });

  it('changes a caption, takes a file down, and then knows it no more', async () => {
    const knife = first(await shelf.plan());
    const one = await rig.call('files.attach', photo(knife));
    rig.clock.set('2024-07-07');
    const two = await rig.call('files.attach', photo(knife, { base64: base64(jpeg), name: 'two.jpg' }));
    expect((await rig.call('files.caption', { id: one.id, caption: 'tip' })).caption).toBe('tip');
    await rig.call('files.remove', { id: one.id });
    const list = await rig.call('files.list', { ownerKind: 'build', ownerId: knife });
    expect(list).toEqual([two]);
    expect((await rig.call('builds.get', { id: knife })).photoId).toBe(two.id);
    const faults = await Promise.all([
      rig.fault('files.remove', { id: one.id }),
      rig.fault('files.caption', { id: one.id, caption: 'x' }),
      rig.fault('files.read', { id: one.id, size: 'full' }),
    ]);
    expect(faults.map((fault) => fault.kind)).toEqual(['missing', 'missing', 'missing']);
  });

  it('says so when a file changed on the disk since', async () => {
    const knife = first(await shelf.plan());
    const pinned = await rig.call('files.attach', photo(knife));
    const stored = rig.db.one(rig.db.q.selectFrom('attachments').select('path'));
    fs.writeFileSync(path.join(rig.folder, stored?.path ?? ''), 'another picture');
    const fault = await rig.fault('files.read', { id: pinned.id, size: 'full' });
    expect([fault.kind, fault.message.includes('has changed since it was stored')]).toEqual([
      'storage',
      true,
    ]);
  });
});

describe('a file before it is read', () => {
  const png = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);

  it('is told apart by its size and its first bytes alone', () => {
    expect(fileTrouble('bar.png', 2000, png)).toBeUndefined();
    expect(fileTrouble('bar.png', MOST_FILE_BYTES, png)).toBeUndefined();
    expect(fileTrouble('bar.png', 80 * 1024 * 1024, png)).toBe(
      'bar.png is larger than 32 MB. Make it smaller first; nothing was added.',
    );
    expect(fileTrouble('notes.png', 20, Buffer.from('just some words'))).toBe(
      'notes.png is not a picture or a PDF that is kept here. Use PNG, JPEG, WebP, GIF, HEIC or PDF; nothing was added.',
    );
    expect(fileTrouble('empty.png', 0, new Uint8Array())).toBe(
      'empty.png is empty. Choose another file; nothing was added.',
    );
  });
});
