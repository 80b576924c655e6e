import { type FieldError, type Setting, type SurfaceInput, type SurfaceQuestion, type SurfaceResult, shown } from '../openapi/index.ts';
import { surfacePredictor } from '../worker/engine/regression/index.ts';
import { Refusal } from './refusal.ts';

type Factor = SurfaceInput['factors'][number];
type Point = SurfaceQuestion['points'][number];

interface Answered {
  quantities: Partial<Record<SurfaceInput['quantities'][number], { value: number; low: number; high: number }>>;
  extrapolates: boolean;
}

const MOST_ERRORS = 50;

/** What a surface expects at each point. Refusal: a point lacks a path, has one that the surface does not know, or a value that cannot stand there. */
export function predictionsOf(input: SurfaceInput, result: SurfaceResult, { points }: SurfaceQuestion): { items: Answered[] } {
  const errors = points.flatMap((point, i) => faultsOf(input.factors, point, `/points/${i}`)).slice(0, MOST_ERRORS);
  if (errors.length > 0) throw new Refusal('invalid-body', { errors });
  const rows = points.map((point) =>
    input.factors.map((factor) => numberOf(factor, point.find(({ path }) => path === factor.path)!.value)!),
  );
  const items = rows.map((): Answered => ({ quantities: {}, extrapolates: false }));
  for (const [k, fit] of result.quantities.entries()) {
    const predict = surfacePredictor({ factors: input.factors, rows: input.rows, values: input.values[k] }, fit);
    for (const [i, row] of rows.entries()) {
      const { mean, low, high, extrapolates } = predict(row);
      items[i].quantities[fit.quantity] = { value: mean, low, high };
      items[i].extrapolates ||= extrapolates;
    }
  }
  return { items };
}

function faultsOf(factors: readonly Factor[], point: Point, at: string): FieldError[] {
  const paths = factors.map(({ path }) => path);
  const given = point.flatMap(({ path, value }, k): FieldError[] => {
    const factor = factors.find((each) => each.path === path);
    const pathFault = (detail: string) => [{ pointer: `${at}/${k}/path`, value: path, detail }];
    if (!factor) return pathFault(`is not varied by this surface; allowed: ${paths.join(', ')}`);
    if (point.findIndex((each) => each.path === path) !== k) return pathFault('is given twice; allowed: each path once');
    if (numberOf(factor, value) !== null) return [];
    return [{ pointer: `${at}/${k}/value`, value: shown(value), detail: `allowed: ${allowed(factor)}` }];
  });
  const missing = paths.filter((path) => !point.some((each) => each.path === path));
  return [...given, ...missing.map((path) => ({ pointer: at, detail: `lacks ${path}; required: ${paths.join(', ')}` }))];
}

/** A surface is asked at most one range beyond its range: further out a polynomial says anything. */
const reachOf = ({ min, max }: Factor): [number, number] => [min! - (max! - min!), max! + (max! - min!)];

/** The number, or the place of the choice; null: it cannot stand there. */
function numberOf(factor: Factor, value: Setting['value']): number | null {
  if (factor.choices) {
    const place = factor.choices.findIndex((each) => sorted(each) === sorted(value));
    return place < 0 ? null : place;
  }
  const [least, most] = reachOf(factor);
  return typeof value === 'number' && value >= least && value <= most ? value : null;
}

const allowed = (factor: Factor): string =>
  factor.choices?.map((each) => JSON.stringify(each)).join(', ') ??
  `a number, at least ${reachOf(factor)[0]}, at most ${reachOf(factor)[1]}`;

/** JSON in which the order of an object's members does not count. */
const sorted = (value: unknown): string =>
  JSON.stringify(value, (_, each) =>
    typeof each === 'object' && each !== null && !Array.isArray(each) ? Object.fromEntries(Object.entries(each).sort()) : each,
  );
