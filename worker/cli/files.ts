import type { StrutGraph } from '../engine/index.ts';
import { latticeThreeMf } from '../lattice-file.ts';
import { BadInput } from './command.ts';

/** Kinds of file that --files can ask for beside result.json and graph.json, and what makes each of a graph. */
export const FILE_KINDS: Readonly<Record<string, (graph: StrutGraph) => string | Uint8Array>> = { '3mf': latticeThreeMf };

/** The kinds named in a comma-separated list. Throws BadInput naming each that does not exist. */
export function fileKinds(list: string): string[] {
  const known = Object.keys(FILE_KINDS);
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
