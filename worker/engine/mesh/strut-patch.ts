import type { Curves } from './curves.ts';
import type { Outline, Piece } from './outline.ts';
import { placeOn, wrapped } from './place.ts';
import { between, betweenRings, type Chain, splitEdge } from './tube.ts';

/** Triangles of what is exposed of one strut, three vertices each, their front outwards. */
export function strutPatch(
  strut: number,
  { round, columns }: Outline,
  { vertices }: Curves,
  data: Float64Array,
  xyz: readonly number[],
): number[][] {
  const placeOf = (v: number) => placeOn(data, strut, [xyz[3 * v], xyz[3 * v + 1], xyz[3 * v + 2]]);
  const chains = columns.map((column) => column.map((sides) => sides.map(chainOf)));
  if (round) return chains.flatMap((column) => column.flatMap(([lower, upper]) => betweenRings(lower, upper)));
  return chains.flatMap((column, k) => {
    const before = chains.at(k - 1)!;
    const after = chains[(k + 1) % chains.length];
    return column.flatMap(([lower, upper]) => {
      const triangles = between(lower, upper);
      const left = wall(lower.vertices[0], upper.vertices[0], [...ends(column, 0), ...ends(before, -1)]);
      const right = wall(lower.vertices.at(-1)!, upper.vertices.at(-1)!, [...ends(column, -1), ...ends(after, 0)]);
      splitEdge(triangles, upper.vertices[0], lower.vertices[0], left.reverse());
      splitEdge(triangles, lower.vertices.at(-1)!, upper.vertices.at(-1)!, right);
      return triangles;
    });
  });

  /** The vertices of pieces that follow each other, with their angles about the strut. */
  function chainOf(pieces: readonly Piece[]): Chain {
    const all = pieces.flatMap((piece, k) => vertices.get(piece)!.slice(k === 0 ? 0 : 1));
    const phi = [pieces[0].start.phi];
    let raw = pieces[0].closed ? placeOf(all[0]).phi : phi[0];
    if (pieces[0].closed) phi[0] = raw;
    for (let k = 1; k < all.length; k++) {
      const next = placeOf(all[k]).phi;
      phi.push(phi[k - 1] + Math.max(0, wrapped(next - raw)));
      raw = next;
    }
    return { vertices: all, phi };
  }

  /** Vertices at one end of a column's chains. */
  function ends(column: readonly (readonly Chain[])[], at: number): number[] {
    return column.flat().map((chain) => chain.vertices.at(at)!);
  }

  /** Those of them that lie between two, along the strut. */
  function wall(lower: number, upper: number, met: readonly number[]): number[] {
    const [from, to] = [placeOf(lower).t, placeOf(upper).t];
    const inner = [...new Set(met)].filter((v) => v !== lower && v !== upper).map((v) => ({ v, t: placeOf(v).t }));
    return inner
      .filter(({ t }) => t > from && t < to)
      .sort((p, q) => p.t - q.t)
      .map(({ v }) => v);
  }
}
