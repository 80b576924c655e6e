import type { StrutGraph } from '../lattice/index.ts';
import { type Colour, MARKED, PLAIN, ROLE_COLOURS, scaleColour } from './colours.ts';
import type { Colouring } from './picture.ts';

/** A body's colour from its struts' values: a node has that of its largest. */
function byValue({ nodeCount, strutCount, ends }: StrutGraph, of: (strut: number) => number): (body: number) => number {
  const ofNode = new Float64Array(nodeCount).fill(Number.NEGATIVE_INFINITY);
  for (let s = 0; s < strutCount; s++) {
    for (const node of [ends[2 * s], ends[2 * s + 1]]) ofNode[node] = Math.max(ofNode[node], of(s));
  }
  return (body) => (body >= 0 ? of(body) : ofNode[-1 - body]);
}

/** Every role in its own colour; node spheres with the first of the roles that meet there. */
export function byRole(graph: StrutGraph): Colouring {
  const role = byValue(graph, (s) => -graph.roles[s]);
  const colourOf = (index: number): Colour => ROLE_COLOURS[index % ROLE_COLOURS.length];
  return { colourOf: (body) => colourOf(-role(body)), legend: graph.roleNames.map((text, k) => ({ text, colour: colourOf(k) })) };
}

/** What checks point at stands out from the rest. */
export function byMark(graph: StrutGraph, struts: ReadonlySet<number>, nodes: ReadonlySet<number>, text: string): Colouring {
  const marked = byValue(graph, (s) => (struts.has(s) ? 1 : 0));
  const colourOf = (body: number): Colour => (marked(body) === 1 || (body < 0 && nodes.has(-1 - body)) ? MARKED : PLAIN);
  return {
    colourOf,
    legend: [
      { text, colour: MARKED },
      { text: 'other', colour: PLAIN },
    ],
  };
}

const STEPS = 5;

/** A value for each strut, by a scale that grows evenly in lightness from 0 to `most`. */
export function byScale(graph: StrutGraph, values: ArrayLike<number>, most: number, unit: string): Colouring {
  const value = byValue(graph, (s) => values[s]);
  const legend = Array.from({ length: STEPS }, (_, k) => {
    const share = k / (STEPS - 1);
    const number = String(Number((share * most).toPrecision(2)));
    return { text: k === STEPS - 1 ? `${number} ${unit}` : number, colour: scaleColour(share) };
  });
  return { colourOf: (body) => scaleColour(most > 0 ? value(body) / most : 0), legend };
}
