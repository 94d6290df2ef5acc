/**
 * The structured invoice: the invoice as PDF/A-3 (ISO 19005-3, level A) with its data as XML inside, after
 * Factur-X 1.0, profile EN 16931: name of the file, its relationship to the page, and the description in XMP.
 */
import { Buffer } from 'node:buffer';
import XmlBuilder from 'fast-xml-builder';
import { invoiceWords, setInvoice } from './invoice.ts';
import { Paper, type Archive } from './paper.ts';
import type { StructuredPaper, XmlTree } from './types.ts';

const FILE_NAME = 'factur-x.xml';
const NAMESPACE = 'urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#';

const property = (name: string, description: string): string => `
              <rdf:li rdf:parseType="Resource">
                <pdfaProperty:name>${name}</pdfaProperty:name>
                <pdfaProperty:valueType>Text</pdfaProperty:valueType>
                <pdfaProperty:category>external</pdfaProperty:category>
                <pdfaProperty:description>${description}</pdfaProperty:description>
              </rdf:li>`;

/** What a reader of PDF/A must be told of fields it does not know, and the fields themselves. */
const xmp = `
        <rdf:Description rdf:about="" xmlns:fx="${NAMESPACE}">
          <fx:DocumentType>INVOICE</fx:DocumentType>
          <fx:DocumentFileName>${FILE_NAME}</fx:DocumentFileName>
          <fx:Version>1.0</fx:Version>
          <fx:ConformanceLevel>EN 16931</fx:ConformanceLevel>
        </rdf:Description>
        <rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
          <pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
            <pdfaSchema:schema>Factur-X PDFA Extension Schema</pdfaSchema:schema>
            <pdfaSchema:namespaceURI>${NAMESPACE}</pdfaSchema:namespaceURI>
            <pdfaSchema:prefix>fx</pdfaSchema:prefix>
            <pdfaSchema:property><rdf:Seq>${[
              property('DocumentFileName', 'name of the embedded XML invoice file'),
              property('DocumentType', 'INVOICE'),
              property('Version', 'version of the Factur-X XML schema'),
              property('ConformanceLevel', 'conformance level of the embedded XML file'),
            ].join('')}
            </rdf:Seq></pdfaSchema:property>
          </rdf:li></rdf:Bag></pdfaExtension:schemas>
        </rdf:Description>`;

/** Characters XML 1.0 does not allow at all (section 2.2), which a name typed long ago may hold. */
const unwritable = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

function cleaned(tree: XmlTree): XmlTree {
  const clean = (value: XmlTree[string]): XmlTree[string] => {
    if (typeof value === 'string') return value.replaceAll(unwritable, '');
    if (Array.isArray(value)) return value.map((part: XmlTree) => cleaned(part));
    return cleaned(value as XmlTree);
  };
  return Object.fromEntries(Object.entries(tree).map(([key, value]) => [key, clean(value)]));
}

/** Writes a tree as XML. */
export function xmlOf(tree: XmlTree): string {
  const builder = new XmlBuilder({
    ignoreAttributes: false,
    attributeNamePrefix: '@_',
    format: true,
    suppressEmptyNode: true,
  });
  return `<?xml version="1.0" encoding="UTF-8"?>\n${builder.build(cleaned(tree))}`;
}

/** Sets the invoice and puts its data inside. @returns the file, the same bytes for the same data */
export async function renderStructured({ invoice, tree }: StructuredPaper): Promise<Uint8Array> {
  const archive: Archive = {
    xmp,
    file: {
      name: FILE_NAME,
      mime: 'text/xml',
      bytes: Buffer.from(xmlOf(tree)),
      relationship: 'Alternative',
      description: 'Invoice data after EN 16931',
    },
  };
  const paper = new Paper(invoice, invoiceWords(invoice), archive);
  setInvoice(paper, invoice);
  return paper.finish();
}
