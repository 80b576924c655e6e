import { forEachNearPair, type StrutGraph } from '../../../worker/engine/lattice/index.ts';
import { graphOf, type Point, type Strut } from '../print/samples.ts';
import { random, wideDirections } from './samples.ts';

/**
 * A small tree or cage of round cones from a seed: a node in the middle, three to five arms at wide angles, one of them forked, two of them braced.
 * Every strut has its own two diameters. Graphs in which struts cut others that they do not meet, or meet at less than 45 degrees, are drawn again.
 */
export function randomGraph(seed: number): StrutGraph {
  const next = random(seed);
  for (;;) {
    const graph = draw(next);
    if (onlyMeetAtNodes(graph) && !hasNarrowAngle(graph)) return graph;
  }
}

function draw(next: () => number): StrutGraph {
  const diameter = () => 0.5 + 1.3 * next();
  const points: Point[] = [[0, 0, 0]];
  const struts: Strut[] = [];
  const arm = (from: number, direction: Point, length: number) => {
    const to = points.push([0, 1, 2].map((i) => points[from][i] + length * direction[i]) as unknown as Point) - 1;
    struts.push([from, to, diameter(), diameter()]);
    return to;
  };
  const arms = wideDirections(next, 3 + Math.floor(3 * next())).map((direction) => ({ direction, end: arm(0, direction, 4 + 3 * next()) }));
  // the fork leaves the arm's end forwards or sideways, not back along it
  for (const direction of wideDirections(next, 2)) {
    const forward = direction.reduce((sum, x, i) => sum + x * arms[0].direction[i], 0);
    if (forward > -0.4) arm(arms[0].end, direction, 3 + 2 * next());
  }
  struts.push([arms[1].end, arms[2].end, diameter(), diameter()]);
  return graphOf(points, struts);
}

function onlyMeetAtNodes(graph: StrutGraph): boolean {
  let clear = true;
  forEachNearPair(graph, null, 0, (_, __, { gapMm }) => {
    clear &&= gapMm > 0;
    return Number.NEGATIVE_INFINITY;
  });
  return clear;
}

function hasNarrowAngle({ strutCount, ends, xyz }: StrutGraph): boolean {
  const outwards = Array.from({ length: 2 * strutCount }, (_, end) => {
    const [here, there] = [3 * ends[end], 3 * ends[end ^ 1]];
    const d = [0, 1, 2].map((i) => xyz[there + i] - xyz[here + i]);
    return d.map((x) => x / Math.hypot(...d));
  });
  return outwards.some((u, p) =>
    outwards.some((v, q) => p < q && ends[p] === ends[q] && u[0] * v[0] + u[1] * v[1] + u[2] * v[2] > Math.SQRT1_2),
  );
}
