/** From rows of the books to attachments as the contract answers them. */
import type { Attachment } from '../../api/builds.ts';
import type { attachmentRows } from '../../storage/queries/attachments.ts';

/** A pinned file as the contract answers it. */
export const toAttachment = (row: ReturnType<typeof attachmentRows>[number]): Attachment => ({
  id: row.id,
  ownerKind: row.owner_kind as Attachment['ownerKind'],
  ownerId: row.owner_id,
  role: row.role as Attachment['role'],
  name: row.name,
  mime: row.mime,
  bytes: row.bytes,
  caption: row.caption,
  addedAt: row.added_at,
  hasThumb: row.thumb_path !== null,
});
