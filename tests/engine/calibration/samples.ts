import { MATERIALS } from '../../../openapi/catalogue/materials.ts';
import {
  coordinatesOf,
  type Fit,
  lnPredicted,
  type Observation,
  type Values,
  type VersionResponse,
} from '../../../worker/engine/calibration/index.ts';
import { deviates } from '../../../worker/engine/probability/index.ts';
import { versionResponse } from '../../../worker/engine/version-response.ts';
import { parametersOf } from '../lattice/samples.ts';

export const TPU = MATERIALS.find(({ key }) => key === 'tpu-soft')!;

/** A small ball that the engine presses and drops in a moment. */
export const smallBall = (strutMm: number, postMm: number) =>
  parametersOf({
    ...{ m: 1, n: 1, outsideDiameterMm: 100, orientation: 'split-plane', posts: postMm },
    layers: [
      { depthMm: 0, strutDiameterMm: strutMm },
      { depthMm: 10, strutDiameterMm: postMm },
    ],
  });

export const CONDITIONS = { secantAtPct: 5, dropHeightMm: 1000 };
const quiet = { isCancelled: () => false, onProgress: () => {} };

export function responseOf(set: ReturnType<typeof smallBall>): VersionResponse {
  const found = versionResponse(set, TPU, CONDITIONS, quiet);
  if (found.kind === 'fault') throw new Error(found.fault.message);
  return found.response;
}

/** What such tests scatter, and what instruments may be off, percent: mass, tape, press, video. */
export const NOISE: Readonly<Record<string, { scatterPct: number; biasPct: number }>> = {
  massG: { scatterPct: 1, biasPct: 0.2 },
  outsideDiameterMm: { scatterPct: 0.15, biasPct: 0.2 },
  stiffnessNPerMm: { scatterPct: 4, biasPct: 2 },
  restitution: { scatterPct: 1.5, biasPct: 1 },
};

/** Invented measurements of `prints` prints of each version with these true values: each instrument off by its own bias, each part by its own scatter. */
export function measured(
  responses: readonly VersionResponse[],
  truth: Values,
  {
    prints,
    seed,
    quantities = Object.keys(NOISE),
    outlierShare = 0,
  }: { prints: number; seed: number; quantities?: string[]; outlierShare?: number },
): Observation[] {
  const { normal, uniform } = deviates(seed, 7);
  const x = coordinatesOf(truth);
  const bias = Object.fromEntries(quantities.map((name) => [name, (NOISE[name].biasPct / 100) * normal()]));
  return responses.flatMap((response, version) =>
    Array.from({ length: prints }).flatMap(() =>
      quantities.map((quantity) => {
        const { scatterPct, biasPct } = NOISE[quantity];
        const slip = uniform() < outlierShare ? 10 : 1;
        const ln = lnPredicted(response, quantity, x) + bias[quantity] + (slip * scatterPct * normal()) / 100;
        return { version, quantity, value: Math.exp(ln), scatterPct, biasPct, instrument: 'one' };
      }),
    ),
  );
}

/** Half width of the 95 % interval of unknown k. */
export const halfWidth = (fit: Fit, k: number): number => 1.959964 * Math.sqrt(fit.covariance[k][k]);
