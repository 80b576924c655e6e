import type { FieldError, Setting, SurfaceInput, SurfaceQuestion, SurfaceResult } from '../openapi/index.ts';
import { surfacePredictor } from '../worker/engine/regression/index.ts';
import { Refusal } from './refusal.ts';

type Answered = {
  quantities: Partial<Record<SurfaceInput['quantities'][number], { value: number; low: number; high: number }>>;
  extrapolates: boolean;
};

/** What a surface expects at each point. Refusal: a point lacks a path, has one that the surface does not know, or a value that cannot stand there. */
export function predictionsOf(input: SurfaceInput, result: SurfaceResult, { points }: SurfaceQuestion): { items: Answered[] } {
  const rows = rowsOf(input, points);
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

function rowsOf({ factors }: SurfaceInput, points: SurfaceQuestion['points']): number[][] {
  const errors: FieldError[] = [];
  const paths = factors.map(({ path }) => path);
  const rows = points.map((settings, i) => {
    for (const [k, { path }] of settings.entries()) {
      const first = settings.findIndex((each) => each.path === path) === k;
      const detail = !paths.includes(path)
        ? `is not varied by this surface; allowed: ${paths.join(', ')}`
        : first
          ? null
          : 'is given twice; allowed: each path once';
      if (detail) errors.push({ pointer: `/points/${i}/${k}/path`, value: path, detail });
    }
    return factors.map((factor) => {
      const k = settings.findIndex(({ path }) => path === factor.path);
      const given = settings[k]?.value;
      if (k < 0) errors.push({ pointer: `/points/${i}`, detail: `lacks ${factor.path}; required: ${paths.join(', ')}` });
      const at = k < 0 ? Number.NaN : numberOf(factor, given);
      if (k >= 0 && Number.isNaN(at))
        errors.push({ pointer: `/points/${i}/${k}/value`, value: given, detail: `allowed: ${allowed(factor)}` });
      return at;
    });
  });
  if (errors.length > 0) throw new Refusal('invalid-body', { errors: errors.slice(0, MOST_ERRORS) });
  return rows;
}
const MOST_ERRORS = 50;

/** NaN: it cannot stand there. */
function numberOf({ choices }: SurfaceInput['factors'][number], value: Setting['value']): number {
  if (!choices) return typeof value === 'number' ? value : Number.NaN;
  const place = choices.findIndex((each) => sorted(each) === sorted(value));
  return place < 0 ? Number.NaN : place;
}

const allowed = ({ choices }: SurfaceInput['factors'][number]): string =>
  choices?.map((each) => JSON.stringify(each)).join(', ') ?? 'a number';

/** JSON in which the order of an object's members does not count. */
const sorted = (value: unknown): string =>
  JSON.stringify(value, (_, each) =>
    typeof each === 'object' && each !== null && !Array.isArray(each) ? Object.fromEntries(Object.entries(each).sort()) : each,
  );
