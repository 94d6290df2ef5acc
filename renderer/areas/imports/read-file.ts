/** Reads a chosen file as text: UTF-8, else the older Western encoding many spreadsheets still write. */
export const textOfFile = async (file: Blob): Promise<string> => {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
};
