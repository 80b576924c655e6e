import { extname } from 'node:path';

/** Stems of the files that stand for a design as a whole: a version and an extension tell them. */
const WHOLE = /^(?:lattice|graph|report)(?:-|$)/;

/**
 * Name to save a file of an evaluation under: `design-version.ext` where it is of a version and stands for it, `design-version-what.ext` where it is one
 * of several with its extension; the evaluation's id in place of both where there is no version, or the design's name has no letters.
 */
export function savedName(name: string, evaluationId: string, version: { designName: string; number: number } | null): string {
  const slug = version && slugOf(version.designName);
  if (!slug) return `${evaluationId}-${name}`;
  const extension = extname(name);
  const rest = name.slice(0, -extension.length).replace(WHOLE, '');
  return `${slug}-${version.number}${rest && `-${rest}`}${extension}`;
}

/** The letters and digits of a name, for a file system: "Größe 1, leicht" gives "grosse-1-leicht". */
const slugOf = (name: string) =>
  name
    .toLowerCase()
    .replaceAll('ß', 'ss')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 80);
