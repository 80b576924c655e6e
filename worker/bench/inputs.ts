import { evaluationInput, type ResolvedInput } from '../../openapi/evaluation.ts';
import { exampleParameterSet } from '../../openapi/examples.ts';
import { catalogueLookup, resolveInput } from '../../openapi/resolve.ts';

/** The league's training ball. */
export const TRAINING_BALL = exampleParameterSet;

/** An evaluation's input with built-in records. */
export async function inputOf(parameterSet: unknown): Promise<ResolvedInput> {
  const input = evaluationInput.parse({ parameterSet, material: 'tpu-soft', buildVolume: 'medium-polymer', reference: 'handball-size-1' });
  const resolved = await resolveInput(input, catalogueLookup);
  if (!resolved.ok) throw new Error(`the benchmark's input is refused: ${resolved.errors[0].detail}`);
  return resolved.value;
}
