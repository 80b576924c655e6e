import { describe, expect, it } from 'vitest';
import { inFirstOctant, threeMf } from '../../worker/engine/export/index.ts';
import type { StrutGraph } from '../../worker/engine/lattice/index.ts';
import { withSpheres } from '../engine/export/three-mf-samples.ts';
import { latticeOf } from '../engine/lattice/samples.ts';
import { randomGraph } from '../engine/solid/random-graphs.ts';
import { type Drawn, distance, drawnBy3MFLoader } from './3mf-reader.ts';

const layer = (depthMm: number, strutDiameterMm: number) => ({ depthMm, strutDiameterMm });
const ball = latticeOf({
  m: 3,
  n: 3,
  outsideDiameterMm: 162.3,
  layers: [layer(0, 4.2), layer(14, 3.6)],
  posts: 3.6,
  relaxation: 'equal-edges',
});
const small = latticeOf({ m: 1, n: 0, outsideDiameterMm: 60, layers: [layer(0, 3), layer(8, 2)], posts: 2.5 }).graph;

/** Corners are in single precision, 24 bits, and as far as 300 mm from the origin; a few of them are averaged. */
const SINGLE_MM = 300 * 2 ** -23;

/** Largest distance of a drawn copy from the graph at its place: ends, radii at both, lengths. */
function apart({ struts }: Drawn, { xyz, ends, diameters }: StrutGraph, shift: readonly number[]): number {
  const at = (node: number) => [0, 1, 2].map((k) => xyz[3 * node + k] + shift[k]) as [number, number, number];
  return Math.max(
    ...struts.flatMap(({ from, to, radiusFrom, radiusTo }, s) => {
      const [a, b] = [at(ends[2 * s]), at(ends[2 * s + 1])];
      return [
        distance(from, a),
        distance(to, b),
        Math.abs(radiusFrom - diameters[2 * s] / 2),
        Math.abs(radiusTo - diameters[2 * s + 1] / 2),
        Math.abs(distance(from, to) - distance(a, b)),
      ];
    }),
  );
}

/** Radii of the drawn spheres against those of the nodes at their places. */
function spheresApart({ spheres }: Drawn, { nodeCount, nodeRadius, xyz }: StrutGraph, shift: readonly number[]): number {
  return Math.max(
    ...Array.from({ length: nodeCount }, (_, node) => {
      const place = [0, 1, 2].map((k) => xyz[3 * node + k] + shift[k]) as [number, number, number];
      const nearest = spheres.reduce((best, each) => (distance(each.centre, place) < distance(best.centre, place) ? each : best));
      return Math.max(distance(nearest.centre, place), Math.abs(nearest.radius - nodeRadius[node]));
    }),
  );
}

const GRAPHS: readonly [name: string, graph: StrutGraph][] = [
  ['GP(3,3), two layers and posts', ball.graph],
  ['cones, no two alike', randomGraph(5)],
  ['larger spheres at some nodes', withSpheres(small, (node, needed) => (node % 3 === 0 ? needed + 0.5 : needed))],
  ['larger spheres at all nodes', withSpheres(small, (_, needed) => needed + 0.5)],
];

describe('our 3MF files in another reader [three.js 0.187, 3MFLoader; status: read by it]', () => {
  it.each(GRAPHS)('%s: counts, places, lengths and radii', (_, graph) => {
    const { x, y, z } = inFirstOctant(graph);
    const drawn = drawnBy3MFLoader(threeMf([{ graph, name: 'ball', placements: [{ x, y, z }] }], { Title: 'One ball' }));
    expect(drawn.map(({ name, struts, spheres }) => [name, struts.length, spheres.length])).toEqual([
      ['ball', graph.strutCount, graph.nodeCount],
    ]);
    expect(apart(drawn[0], graph, [x, y, z])).toBeLessThan(SINGLE_MM);
    expect(spheresApart(drawn[0], graph, [x, y, z])).toBeLessThan(SINGLE_MM);
  });

  it('a build of two parts, one of them twice', () => {
    const places = [35, 105].map((x) => ({ x, y: 40, z: 50 }));
    const other = { x: 150, y: 100, z: 100 };
    const drawn = drawnBy3MFLoader(
      threeMf(
        [
          { graph: small, name: 'small', placements: places },
          { graph: ball.graph, name: 'size 1', placements: [other] },
        ],
        {},
      ),
    );
    expect(drawn.map(({ name }) => name)).toEqual(['small', 'small', 'size 1']);
    const offs = drawn.map((each, k) => {
      const { x, y, z } = [...places, other][k];
      return apart(each, k < 2 ? small : ball.graph, [x, y, z]);
    });
    expect(Math.max(...offs)).toBeLessThan(SINGLE_MM);
  });

  it('a part that is built larger by what it shrinks: its places and radii all are', () => {
    const larger = 1 / (1 - 0.025);
    const place = { x: 40, y: 40, z: 40, scale: [larger, larger, larger] as const };
    const [drawn] = drawnBy3MFLoader(threeMf([{ graph: small, name: 'small', placements: [place] }], {}));
    const built = { ...small, xyz: small.xyz.map((x) => larger * x), diameters: small.diameters.map((d) => larger * d) };
    // the scale is written to 1e-6, which moves a point 40 mm out by as little as single precision does
    expect(apart(drawn, built, [40, 40, 40])).toBeLessThan(40 * 1e-6 + SINGLE_MM);
  });

  it('a part that shrinks more one way than another: its places', () => {
    const scale = [1.02, 1.03, 1.04] as const;
    const [drawn] = drawnBy3MFLoader(threeMf([{ graph: small, name: 'small', placements: [{ x: 40, y: 40, z: 40, scale }] }], {}));
    const place = (node: number) => [0, 1, 2].map((k) => scale[k] * small.xyz[3 * node + k] + 40) as [number, number, number];
    const offs = drawn.struts.flatMap(({ from, to }, s) => [
      distance(from, place(small.ends[2 * s])),
      distance(to, place(small.ends[2 * s + 1])),
    ]);
    expect(Math.max(...offs)).toBeLessThan(40 * 1e-6 + SINGLE_MM);
  });
});
