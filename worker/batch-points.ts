import {
  type FieldError,
  parameterSet,
  type ResolvedInput,
  type Sampling,
  type Setting,
  settle,
  type Validated,
  type Variable,
  type Variation,
  validate,
  valuesOf,
  withSettings,
} from '../openapi/index.ts';
import { gridPoint, latinHypercubePoint, sobolPoint } from './engine/index.ts';

/** A batch as it is stored: every key replaced by its record, and how many points each stretch of its sampling has. */
export interface BatchInput {
  evaluation: Variable & Pick<ResolvedInput, 'reference' | 'tests' | 'build'>;
  vary: Variation[];
  sampling: Sampling;
  /** A Latin hypercube is as large as it was asked for; what extends it is another one. */
  stretches: number[];
}

/** The values of point `index` along each axis. */
export function settingsOf({ vary, sampling: { kind, seed }, stretches }: BatchInput, index: number): Setting[] {
  if (kind === 'grid') {
    const places = gridPoint(index, vary.map(valuesOf));
    return vary.map((each, axis) => ({ path: each.path, value: atPlace(each, places[axis]) }));
  }
  const shares = kind === 'sobol' ? sobolPoint(index, vary.length) : inHypercube(index, vary.length, stretches, seed);
  return vary.map((each, axis) => ({ path: each.path, value: atShare(each, shares[axis]) }));
}

function inHypercube(index: number, dimensions: number, stretches: readonly number[], seed: number): Float64Array {
  let [first, stretch] = [0, 0];
  while (index >= first + stretches[stretch]) first += stretches[stretch++];
  return latinHypercubePoint(index - first, dimensions, { points: stretches[stretch], seed: seed + stretch });
}

/** Of a grid: the value at a place along an axis. */
function atPlace({ values, from = 0, to = 0, steps = 1, choices }: Variation, place: number): Setting['value'] {
  if (values) return values[place];
  return choices ? choices[place] : from + ((to - from) * place) / (steps - 1);
}

/** Of samples: the value at a share of an axis, 0 to 1; every value or choice has as large a share. */
function atShare({ values, from = 0, to = 0, choices }: Variation, share: number): Setting['value'] {
  const list: readonly Setting['value'][] | undefined = values ?? choices;
  return list ? list[Math.floor(share * list.length)] : from + (to - from) * share;
}

/** What is computed at a point, or why its parameters are refused. */
export function inputAt({ evaluation }: Pick<BatchInput, 'evaluation'>, settings: readonly Setting[]): Validated<ResolvedInput> {
  const { parameterSet: given, ...rest } = withSettings(evaluation, settings);
  const checked = validate(parameterSet, given);
  if (!checked.ok) return { ok: false, errors: checked.errors.map(below('/parameterSet')) };
  return { ok: true, value: { ...rest, parameterSet: settle(checked.value) } as ResolvedInput };
}

const below =
  (place: string) =>
  (error: FieldError): FieldError => ({ ...error, pointer: `${place}${error.pointer}` });
