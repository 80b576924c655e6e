import { DOMParser, type Element, type Node, onErrorStopParsing } from '@xmldom/xmldom';
import { strFromU8, unzipSync } from 'fflate';

/** What a rule says of a place in a file. */
export interface Finding {
  readonly rule: string;
  readonly where: string;
}

/** `broken`: what the specifications say a file MUST be and this one is not; `notes`: what it SHOULD be. */
export interface Findings {
  readonly broken: Finding[];
  readonly notes: Finding[];
}

export const must = (findings: Findings, holds: boolean, rule: string, where: string): boolean => {
  if (!holds) findings.broken.push({ rule, where });
  return holds;
};
export const should = (findings: Findings, holds: boolean, rule: string, where: string): void => {
  if (!holds) findings.notes.push({ rule, where });
};

const CONTENT_TYPES = '[Content_Types].xml';
const START_PART = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';
const RELATIONSHIPS = 'http://schemas.openxmlformats.org/package/2006/relationships';
const TYPES = 'http://schemas.openxmlformats.org/package/2006/content-types';
const TYPE_OF: Readonly<Record<string, string>> = {
  rels: 'application/vnd.openxmlformats-package.relationships+xml',
  model: 'application/vnd.ms-package.3dmanufacturing-3dmodel+xml',
};

/** The root of the model part of a package; null where it cannot be reached. Rules of OPC and of the 3MF Core Specification's chapter 2. */
export function modelRoot(bytes: Uint8Array, findings: Findings): Element | null {
  for (const { name, method, flags } of centralDirectory(bytes)) {
    must(findings, method === 0 || method === 8, 'zip-method', name);
    must(findings, (flags & 1) === 0, 'zip-encrypted', name);
  }
  if (findings.broken.length > 0) return null;
  const parts = unzipSync(bytes);
  const rels = xmlPart(parts, '_rels/.rels', findings);
  const types = xmlPart(parts, CONTENT_TYPES, findings);
  if (!rels || !types) return null;
  checkTypes(types, Object.keys(parts), findings);
  const start = children(rels, RELATIONSHIPS, 'Relationship').filter((each) => each.getAttribute('Type') === START_PART);
  if (!must(findings, start.length === 1, 'one-start-part', '_rels/.rels')) return null;
  const target = start[0].getAttribute('Target') ?? '';
  must(findings, target.startsWith('/'), 'absolute-part-name', target);
  return xmlPart(parts, target.replace(/^\//, ''), findings);
}

function checkTypes(types: Element, parts: string[], findings: Findings): void {
  const typeByExtension = new Map(
    children(types, TYPES, 'Default').map((each) => [
      each.getAttribute('Extension')?.toLowerCase() ?? '',
      each.getAttribute('ContentType'),
    ]),
  );
  for (const part of parts.filter((name) => name !== CONTENT_TYPES)) {
    const extension = part.slice(part.lastIndexOf('.') + 1).toLowerCase();
    const found = typeByExtension.get(extension);
    must(findings, found !== undefined && found === (TYPE_OF[extension] ?? found), 'content-type', part);
  }
}

/** UTF-8, well-formed, no document type, no xml: attribute but xml:lang on the root. */
function xmlPart(parts: Record<string, Uint8Array>, name: string, findings: Findings): Element | null {
  if (!must(findings, name in parts, 'part-missing', name)) return null;
  const text = strFromU8(parts[name]);
  must(findings, /^\uFEFF?<\?xml [^?]*encoding="utf-8"/i.test(text), 'utf-8', name);
  let root: Element | null;
  try {
    const document = new DOMParser({ onError: onErrorStopParsing }).parseFromString(text, 'text/xml');
    must(findings, document.doctype === null, 'no-document-type', name);
    root = document.documentElement;
  } catch (error) {
    must(findings, false, 'well-formed', `${name}: ${(error as Error).message}`);
    return null;
  }
  return root;
}

const XML = 'http://www.w3.org/XML/1998/namespace';
export const isXmlAttribute = (namespace: string | null): boolean => namespace === XML;

/** Child elements, all or of one name. */
export function children(parent: Element, namespace?: string, name?: string): Element[] {
  const found: Element[] = [];
  for (let node: Node | null = parent.firstChild; node; node = node.nextSibling) {
    if (node.nodeType !== 1) continue;
    const element = node as Element;
    if (name === undefined || (element.localName === name && element.namespaceURI === namespace)) found.push(element);
  }
  return found;
}

interface Entry {
  name: string;
  method: number;
  flags: number;
}

/** The entries of a zip by its central directory (APPNOTE 6.3, sections 4.3.12 and 4.3.16). */
function centralDirectory(bytes: Uint8Array): Entry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (end >= 0 && view.getUint32(end, true) !== 0x06054b50) end--;
  if (end < 0) throw new Error('is not a zip');
  const entries: Entry[] = [];
  let at = view.getUint32(end + 16, true);
  for (let k = view.getUint16(end + 10, true); k > 0; k--) {
    const nameLength = view.getUint16(at + 28, true);
    const name = strFromU8(bytes.subarray(at + 46, at + 46 + nameLength));
    entries.push({ name, method: view.getUint16(at + 10, true), flags: view.getUint16(at + 8, true) });
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return entries;
}
