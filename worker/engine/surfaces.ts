import { Cancelled, type EvaluationHooks, openCourse } from './course.ts';
import { fitSurface, type SurfaceFit } from './regression/index.ts';

export const SURFACE_STAGES = ['surfaces'] as const;

export interface SurfacesInput<Quantity extends string> {
  readonly factors: readonly { readonly choices: readonly unknown[] | null }[];
  readonly rows: readonly (readonly number[])[];
  readonly quantities: readonly Quantity[];
  /** Of each quantity, at each row. */
  readonly values: readonly (readonly number[])[];
}

export type SurfacesOutcome<Quantity extends string> =
  | { readonly kind: 'done'; readonly result: { quantities: ({ quantity: Quantity } & SurfaceFit)[] } }
  | { readonly kind: 'cancelled' };

/** One surface for each quantity over the same rows. */
export function surfacesOf<Quantity extends string>(
  { factors, rows, quantities, values }: SurfacesInput<Quantity>,
  hooks: EvaluationHooks = {},
): SurfacesOutcome<Quantity> {
  const course = openCourse([['surfaces', 1]], hooks);
  try {
    course.enter('surfaces');
    const found = quantities.map((quantity, k) => {
      course.reach(k / quantities.length);
      return { quantity, ...fitSurface({ factors, rows, values: values[k] }, course) };
    });
    return { kind: 'done', result: { quantities: found } };
  } catch (error) {
    if (error instanceof Cancelled) return { kind: 'cancelled' };
    throw error;
  }
}
