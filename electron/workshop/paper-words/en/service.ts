/** Words of what is done to a knife after its sale, as an invoice names it. */
export const service = {
  kinds: {
    sharpening: 'Sharpening',
    repair: 'Repair',
    warranty: 'Work under warranty',
    other: 'Work on a knife',
  } as Readonly<Record<string, string>>,
  received: (knife: string, day: string): string => `${knife}, received ${day}`,
};
