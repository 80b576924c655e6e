import type { Lattice } from '../lattice/index.ts';

/** A cell laid flat: x and y of its outline in turn, mm, without its first corner again. */
export interface FlatCell {
  readonly sides: number;
  readonly outline: readonly number[];
}

/** The cells of one layer on two discs side by side, and how far they reach. */
export interface FlatCells {
  readonly cells: readonly FlatCell[];
  /** Half the width and half the height, mm. */
  readonly reachMm: readonly [number, number];
}

/** Cells at the edge reach this much over their disc. */
const OVER = 1.2;
/** Points in which an edge is drawn. */
const PIECES = 8;

/**
 * The cells of layer 0 on two discs, the upper half on the left and the lower one on the right, both seen from outside: Lambert's azimuthal
 * projection, which keeps areas (Snyder 1987, section 24). Cells that reach over the edge of a disc are on both.
 */
export function flatCells({ graph, cellCount, cellPtr, cellNodes, nodeRadiusMm: [radius] }: Lattice): FlatCells {
  const reach = Math.SQRT2 * radius;
  const cells: FlatCell[] = [];
  for (const half of [1, -1]) {
    const middle = half * -OVER * reach;
    const flat = (n: readonly number[]): number[] => {
      const scale = radius * Math.sqrt(2 / (1 + half * n[2]));
      return [middle + half * scale * n[0], scale * n[1]];
    };
    for (let c = 0; c < cellCount; c++) {
      const ring = Array.from(cellNodes.subarray(cellPtr[c], cellPtr[c + 1]), (v) => [0, 1, 2].map((k) => graph.xyz[3 * v + k] / radius));
      if (Math.max(...ring.map((n) => half * n[2])) <= 1e-9 || Math.min(...ring.map((n) => half * n[2])) < -0.9) continue;
      const outline = ring.flatMap((p, k) =>
        Array.from({ length: PIECES }, (_, i) => flat(between(p, ring[(k + 1) % ring.length], i / PIECES))).flat(),
      );
      cells.push({ sides: ring.length, outline });
    }
  }
  return { cells, reachMm: [2 * OVER * reach, OVER * reach] };
}

/** A direction between two. */
function between(p: readonly number[], q: readonly number[], share: number): number[] {
  const mixed = p.map((x, k) => x + share * (q[k] - x));
  const length = Math.hypot(mixed[0], mixed[1], mixed[2]);
  return mixed.map((x) => x / length);
}
