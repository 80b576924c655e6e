import type { FreeParameter, Variation } from '../../openapi/index.ts';

/** What stands in a field for numbers: a number, or what is none as it was typed, for the rules to refuse. */
export type Typed = number | string | undefined;

/** A parameter that may change, as it is typed: a number between two, or one of several choices. */
export interface Varied {
  path: string;
  low: Typed;
  high: Typed;
  /** Of a grid how many values, of a search the distance between two. */
  step: Typed;
  choices: string;
}

/** Over these words or records are chosen, and what is offered at first. */
const CHOSEN: Readonly<Record<string, string>> = {
  tiling: '3,3 4,2',
  'tiling.relaxation': 'none equal-edges equal-areas',
  'links.pattern': 'posts braced',
  material: 'tpu-soft',
  buildVolume: 'medium-polymer',
};
export const isChosen = (path: string): boolean => path in CHOSEN;

/** Share of what a parameter is by which it is varied at first, downwards and upwards. */
const AROUND = 0.15;

/** The numbers of a parameter set by their paths; strut diameters first, as they are varied most. The first layer lies at depth 0. */
export function numbersIn(set: object): Map<string, number> {
  const found: [string, number][] = [];
  const walk = (value: unknown, path: string) => {
    if (typeof value === 'number' && path !== 'layers.0.depthMm') found.push([path, value]);
    else if (typeof value === 'object' && value !== null)
      for (const [key, inside] of Object.entries(value)) walk(inside, path ? `${path}.${key}` : key);
  };
  walk(set, '');
  const isStrut = ([path]: [string, number]) => Number(!path.endsWith('strutDiameterMm'));
  return new Map(found.sort((a, b) => isStrut(a) - isStrut(b)));
}

/** Every path that a parameter set can be varied at. */
export const pathsOf = (set: object): string[] => [...numbersIn(set).keys(), ...Object.keys(CHOSEN)];

/** A parameter about what the set has there. */
export function variedAt(set: object, path: string): Varied {
  const value = numbersIn(set).get(path);
  const beside = (share: number) => (value === undefined ? undefined : Number((value * (1 + share)).toPrecision(3)));
  return { path, low: beside(-AROUND), high: beside(AROUND), step: undefined, choices: CHOSEN[path] ?? '' };
}

/** "3,3 4,2" of cells is two tilings; of all else words are words. */
function choicesOf({ path, choices }: Varied): NonNullable<Variation['choices']> {
  const words = choices.split(/\s+/).filter(Boolean);
  if (path !== 'tiling') return words;
  return words.map((word) => {
    const [m, n] = word.split(',').map(Number);
    return Number.isNaN(m) || Number.isNaN(n) ? word : { m, n };
  });
}

/** As a batch takes it. */
export function asVariation(row: Varied, kind: string): Variation {
  const { path, low, high, step } = row;
  if (isChosen(path)) return { path, choices: choicesOf(row) };
  return { path, from: low, to: high, ...(kind === 'grid' && { steps: step }) } as Variation;
}

/** As a search takes it. */
export function asFree(row: Varied): FreeParameter {
  const { path, low, high, step } = row;
  if (isChosen(path)) return { path, choices: choicesOf(row) };
  return { path, min: low, max: high, ...(step !== undefined && { step }) } as FreeParameter;
}
