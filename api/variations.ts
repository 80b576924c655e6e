import {
  type EvaluationRequest,
  type FieldError,
  type Lookup,
  type Origin,
  pathRefusal,
  type ResolvedInput,
  resolveInput,
  resolveMaking,
  type Setting,
  type Validated,
  type Variation,
} from '../openapi/index.ts';
import type { Version } from '../prisma/index.ts';
import { baseOf } from './evaluations.ts';

/** Paths that cannot be varied in a parameter set, each with its place in the list of what is varied. */
export const variationRefusals = (
  vary: readonly Pick<Variation, 'path' | 'choices'>[],
  parameterSet: unknown,
  at = '/vary',
): FieldError[] =>
  vary.flatMap(({ path, choices }, k) => {
    const detail = pathRefusal(path, parameterSet, { between: choices === undefined });
    return detail === null ? [] : [{ pointer: `${at}/${k}/path`, value: path, detail }];
  });

export const originOf = (version: Version | null): Origin | null =>
  version && { designId: version.designId, versionId: version.id, version: version.number };

/** An input that is varied point by point, its parameter set as it was given. */
export type VariedInput = Omit<ResolvedInput, 'parameterSet'> & { parameterSet: unknown };

/** The evaluation that is varied, its records found; errors point below `at`. */
export async function resolvedBase(
  { versionId, parameterSet: posted, ...conditions }: EvaluationRequest,
  version: Version | null,
  { look, at }: { look: Lookup; at: string },
): Promise<Validated<VariedInput>> {
  const base = baseOf({ versionId, posted, version });
  if (!base.ok) return { ok: false, errors: under(at, base.errors) };
  const resolved = await resolveInput({ parameterSet: base.value, ...conditions }, look, version?.number);
  if (!resolved.ok) return { ok: false, errors: under(at, resolved.errors) };
  return { ok: true, value: { ...resolved.value, parameterSet: base.value } };
}

const under = (place: string, errors: readonly FieldError[]): FieldError[] =>
  errors.map((error) => ({ ...error, pointer: `${place}${error.pointer}` }));

/** Choices of records, each key replaced by the record it names; errors point below `at`. */
export async function resolvedChoices<T extends Pick<Variation, 'path' | 'choices'>>(
  vary: readonly T[],
  evaluation: Pick<EvaluationRequest, 'material' | 'buildVolume'>,
  { look, at }: { look: Lookup; at: string },
): Promise<Validated<T[]>> {
  const errors: FieldError[] = [];
  const value = await Promise.all(
    vary.map(async (each, k) => {
      if ((each.path !== 'material' && each.path !== 'buildVolume') || !each.choices) return each;
      const { path } = each;
      const choices = await Promise.all(
        each.choices.map(async (choice, place) => {
          const making = await resolveMaking({ ...evaluation, [path]: choice }, look);
          if (making.ok) return making.value[path] as Setting['value'];
          errors.push(...making.errors.map(({ detail }) => ({ pointer: `${at}/${k}/choices/${place}`, value: choice, detail })));
          return choice;
        }),
      );
      return { ...each, choices };
    }),
  );
  return errors.length > 0 ? { ok: false, errors } : { ok: true, value };
}

/** Records among the choices, by their keys where they have one. */
export const shortened = <T extends Pick<Variation, 'choices'>>(variation: T): T => ({
  ...variation,
  ...(variation.choices && { choices: variation.choices.map(keyOf) }),
});
export const keyOf = (choice: Setting['value']): Setting['value'] =>
  typeof choice === 'object' && typeof choice.key === 'string' ? choice.key : choice;
