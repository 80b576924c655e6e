import { catalogueLookup, type EvaluationInput, evaluationInput, type ResolvedInput, resolveInput } from '../../openapi/index.ts';

/** The league's training ball: two layers of GP(3,3), as the contract's examples have it. */
export const TRAINING_BALL = {
  carrier: { shape: 'sphere', outsideDiameterMm: 162.3 },
  tiling: { kind: 'goldberg', m: 3, n: 3, relaxation: 'equal-edges', orientation: 'split-plane' },
  layers: [
    { depthMm: 0, strutDiameterMm: 4.2 },
    { depthMm: 14, strutDiameterMm: 3.6 },
  ],
  links: { pattern: 'posts', strutDiameterMm: 3.6 },
} as const;

/** A small one for quick runs. */
export const SMALL_BALL = {
  carrier: { shape: 'sphere', outsideDiameterMm: 70 },
  tiling: { kind: 'goldberg', m: 1, n: 1, relaxation: 'none', orientation: 'pentagon-up' },
  layers: [
    { depthMm: 0, strutDiameterMm: 3 },
    { depthMm: 8, strutDiameterMm: 2.5 },
  ],
  links: { pattern: 'posts', strutDiameterMm: 2 },
} as const;

/** An evaluation's input as a worker gets it: built-in records unless others are given. */
export async function inputOf(given: Partial<Record<keyof EvaluationInput, unknown>> = {}): Promise<ResolvedInput> {
  const input = evaluationInput.parse({ parameterSet: SMALL_BALL, material: 'tpu-soft', buildVolume: 'medium-polymer', ...given });
  const resolved = await resolveInput(input, catalogueLookup);
  if (!resolved.ok) throw new Error(resolved.errors.map(({ pointer, detail }) => `${pointer} ${detail}`).join('; '));
  return resolved.value;
}
