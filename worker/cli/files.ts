import type { FileName } from '../../openapi/files.ts';
import type { FileSource } from '../files/index.ts';
import { BadInput } from './command.ts';

/** Kinds of file that --files can ask for beside result.json and graph.json: the files of each, and the name under which it is written. */
const FILES_OF: Readonly<Record<string, readonly (readonly [name: FileName, written: string])[]>> = {
  '3mf': [['lattice.3mf', 'lattice.3mf']],
  stl: [['lattice.stl', 'lattice.stl']],
  glb: [['lattice.glb', 'lattice.glb']],
  svg: [
    ['section.svg', 'lattice.svg'],
    ['cells.svg', 'cells.svg'],
  ],
  html: [['report.html', 'report.html']],
  png: [['picture.png', 'picture.png']],
  csv: [
    ['struts.csv', 'struts.csv'],
    ['layers.csv', 'layers.csv'],
  ],
};

/** The kinds named in a comma-separated list. Throws BadInput naming each that does not exist. */
export function fileKinds(list: string): string[] {
  const known = Object.keys(FILES_OF);
  const named = list
    .split(',')
    .map((each) => each.trim())
    .filter((each) => each !== '');
  const unknown = named.filter((each) => !known.includes(each));
  if (unknown.length > 0) {
    const allowed = `${known.join(', ')}; result.json and graph.json are always written`;
    throw new BadInput(unknown.map((each) => `--files is "${each}", which is not a kind of file; allowed: ${allowed}`));
  }
  return [...new Set(named)];
}

/** The files of these kinds, each with the name to write it under. */
export async function filesOf(kinds: readonly string[], source: Omit<FileSource, 'order'>): Promise<[string, string | Uint8Array][]> {
  const made: [string, string | Uint8Array][] = [];
  if (kinds.length === 0) return made;
  const { FILE_MAKERS } = await import('../files/index.ts');
  for (const [name, written] of kinds.flatMap((kind) => FILES_OF[kind])) {
    const content = await FILE_MAKERS[name]({ ...source, order: { name } });
    if (content !== null) made.push([written, content]);
  }
  return made;
}
