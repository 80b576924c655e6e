import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type LatticeRead, lengthOf } from '../engine/export/three-mf-lattice.ts';
import { checkThreeMf } from '../engine/export/three-mf-rules.ts';

/** Numbers of two sample files of the 3MF Consortium (fixtures/3mf), computed from them by another program and kept to the digits shown. */
const SAMPLES = [
  {
    file: 'pyramid.3mf',
    objectId: 1,
    vertices: 123,
    beams: 391,
    lengthMm: 9303.5098,
    shortestMm: 5.0,
    frustaMm3: 219104.9871,
    minLength: 0.0001,
    boxMm: [144.7214, 152.169, 100],
  },
  {
    file: 'variable-voronoi.3mf',
    objectId: 2,
    vertices: 692,
    beams: 1291,
    lengthMm: 13594.9046,
    shortestMm: 0.0095,
    frustaMm3: 26836.3219,
    minLength: 0.005,
    boxMm: [100, 100, 100],
  },
] as const;

const frustum = (length: number, r1: number, r2: number) => (Math.PI / 3) * length * (r1 * r1 + r1 * r2 + r2 * r2);

function figuresOf({ vertices, beams, objectId, minLength }: LatticeRead) {
  const lengths = beams.map(({ v1, v2 }) => lengthOf(vertices[v1], vertices[v2]));
  return {
    objectId,
    minLength,
    vertices: vertices.length,
    beams: beams.length,
    lengthMm: lengths.reduce((sum, each) => sum + each, 0),
    shortestMm: Math.min(...lengths),
    frustaMm3: beams.reduce((sum, { r1, r2 }, k) => sum + frustum(lengths[k], r1, r2), 0),
    boxMm: [0, 1, 2].map((k) => Math.max(...vertices.map((at) => at[k])) - Math.min(...vertices.map((at) => at[k]))),
  };
}

describe('published beam lattices [3MF Consortium sample files; status: computed beside]', () => {
  it.each(SAMPLES)('$file has the counts and sums that another program found', ({ file, ...listed }) => {
    const { broken, lattices } = checkThreeMf(readFileSync(new URL(`../fixtures/3mf/${file}`, import.meta.url)));
    expect(broken).toEqual([]);
    expect(lattices).toHaveLength(1);
    const { lengthMm, shortestMm, frustaMm3, boxMm, ...counts } = figuresOf(lattices[0]);
    expect(counts).toEqual({ objectId: listed.objectId, minLength: listed.minLength, vertices: listed.vertices, beams: listed.beams });
    // four decimals are listed
    expect(lengthMm).toBeCloseTo(listed.lengthMm, 4);
    expect(shortestMm).toBeCloseTo(listed.shortestMm, 4);
    expect(frustaMm3).toBeCloseTo(listed.frustaMm3, 4);
    boxMm.forEach((side, k) => {
      expect(side).toBeCloseTo(listed.boxMm[k], 4);
    });
  });
});
