/** Use-cases: photos, drawings and papers pinned to things. Bytes lie beside the books, named by their content. */
import { Buffer } from 'node:buffer';
import type { Attachment } from '../../api/builds.ts';
import type { Parsed } from '../../api/contract.ts';
import type { deskEndpoints } from '../../api/desk.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { attachmentRow, attachmentRows, ownerExists } from '../../storage/queries/attachments.ts';
import type { CommandContext, CommandHandler } from '../context.ts';
import type { HandlerFor, Handlers } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { type FileKind, kindOfFile } from '../../domain/file-kinds.ts';
import { toAttachment } from './views.ts';

type AttachInput = Parsed<'files.attach'>;

interface Stored {
  readonly path: string;
  readonly sha256: string;
}

/** What lies in the file store before the books are told of it. */
interface Kept {
  readonly kind: FileKind;
  readonly bytes: number;
  readonly file: Stored;
  readonly thumb: Stored | null;
}

/** Pictures small enough for lists, as the screen makes them. */
const thumbMimes: readonly string[] = ['image/png', 'image/jpeg', 'image/webp'];

function needOwner(db: ReadDb, { ownerKind, ownerId }: Pick<AttachInput, 'ownerKind' | 'ownerId'>): void {
  if (ownerExists(db, ownerKind, ownerId)) return;
  throw missing('What this file belongs to does not exist any more. Go back and choose again.');
}

function checkKind(bytes: Uint8Array, role: AttachInput['role'], name: string): FileKind {
  if (bytes.length === 0) throw invalid(`${name} is empty. Choose another file.`, 'base64');
  const kind = kindOfFile(bytes);
  if (kind === undefined) {
    throw refused(
      `${name} is not a picture or a PDF that is kept here. Use PNG, JPEG, WebP, GIF, HEIC or PDF.`,
      'base64',
    );
  }
  if (role === 'photo' && !kind.picture)
    throw refused(`${name} is a paper, not a photo. Pin it as a drawing or a paper.`, 'role');
  return kind;
}

function keepThumb(ctx: CommandContext, base64: string | undefined): Stored | null {
  if (base64 === undefined) return null;
  const bytes = Buffer.from(base64, 'base64');
  const kind = kindOfFile(bytes);
  if (kind === undefined || !thumbMimes.includes(kind.mime)) {
    throw invalid('The small picture is not PNG, JPEG or WebP. Choose the file again.', 'thumbBase64');
  }
  return ctx.files.put(`thumb.${kind.ending}`, bytes);
}

/** Pins a file to a knife, lot, purchase or item. The bytes are on the disk before the books speak of them. */
const attach: CommandHandler<AttachInput, Attachment, Kept> = {
  prepare(ctx, input) {
    needWorkshop(ctx.db);
    needOwner(ctx.db, input);
    const bytes = Buffer.from(input.base64, 'base64');
    const kind = checkKind(bytes, input.role, input.name);
    const thumb = keepThumb(ctx, input.thumbBase64);
    const file = ctx.files.put(`file.${kind.ending}`, bytes);
    return Promise.resolve({ kind, bytes: bytes.length, file, thumb });
  },
  run(ctx, input, kept) {
    needOwner(ctx.db, input);
    const id = ctx.newId();
    const about = {
      owner_kind: input.ownerKind,
      owner_id: input.ownerId,
      role: input.role,
      name: input.name,
    };
    const stored = {
      mime: kept.kind.mime,
      bytes: kept.bytes,
      path: kept.file.path,
      sha256: kept.file.sha256,
    };
    const thumb = { thumb_path: kept.thumb?.path ?? null, thumb_sha256: kept.thumb?.sha256 ?? null };
    const when = { added_at: ctx.clock.now(), removed_at: null };
    ctx.db.run(
      ctx.db.q
        .insertInto('attachments')
        .values({ id, caption: input.caption, ...about, ...stored, ...thumb, ...when }),
    );
    return toAttachment(needAttachment(ctx.db, id));
  },
};

function needAttachment(db: ReadDb, id: string) {
  const row = attachmentRow(db, id);
  if (row === undefined) throw missing('This file is not pinned here any more. Reload the page.');
  return row;
}

/** Reads a file back, checked against its hash in the books; the whole picture where there is no small one. */
const read: HandlerFor<'files.read'> = (ctx, { id, size }) => {
  const row = needAttachment(ctx.db, id);
  const { thumb_path, thumb_sha256 } = row;
  const small = size === 'thumb' && thumb_path !== null && thumb_sha256 !== null;
  const bytes = small ? ctx.files.get(thumb_path, thumb_sha256) : ctx.files.get(row.path, row.sha256);
  const mime = small ? (kindOfFile(bytes)?.mime ?? row.mime) : row.mime;
  return { mime, name: row.name, base64: Buffer.from(bytes).toString('base64') };
};

const caption: HandlerFor<'files.caption'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    needAttachment(ctx.db, input.id);
    ctx.db.run(
      ctx.db.q.updateTable('attachments').set({ caption: input.caption }).where('id', '=', input.id),
    );
    return toAttachment(needAttachment(ctx.db, input.id));
  },
};

/** Takes a file down. The bytes stay beside the books, as the history speaks of them. */
const remove: HandlerFor<'files.remove'> = {
  run(ctx, { id }) {
    needWorkshop(ctx.db);
    needAttachment(ctx.db, id);
    ctx.db.run(ctx.db.q.updateTable('attachments').set({ removed_at: ctx.clock.now() }).where('id', '=', id));
    return null;
  },
};

/** What is pinned to one thing, oldest first. */
const list: HandlerFor<'files.list'> = (ctx, { ownerKind, ownerId }) =>
  attachmentRows(ctx.db, ownerKind, ownerId).map(toAttachment);

type FileEndpoint = Extract<keyof typeof deskEndpoints, `files.${string}`>;

/** Which use-case answers which call. */
export const fileHandlers: Pick<Handlers, FileEndpoint> = {
  'files.attach': attach,
  'files.read': read,
  'files.caption': caption,
  'files.remove': remove,
  'files.list': list,
};
