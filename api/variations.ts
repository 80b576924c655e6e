import { type FieldError, pathRefusal, type Variation } from '../openapi/index.ts';

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
