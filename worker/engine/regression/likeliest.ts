import { deviates } from '../probability/index.ts';
import { ascend } from './ascent.ts';
import { type Hyperparameters, logMarginalLikelihood, type Samples } from './gaussian.ts';
import { KERNEL_NAMES, type KernelName } from './kernel.ts';

/** Of axes that run from 0 to 1: shorter than the distance of neighbours nothing is told, longer than twenty times the axis all is straight. */
const LENGTHS = { least: Math.log(0.05), most: Math.log(20) };
const NOISE = { least: Math.log(1e-8), most: Math.log(10) };
/** Starts are tried on as many points, which settle on the same hill in a small part of the time. */
const FEW = 100;
const STARTS = 4;
const STEPS = 60;
/** Of ln p: what is likelier by less than that cannot be told apart. */
const ENOUGH = 1e-3;

interface Likelihood {
  readonly hyperparameters: Hyperparameters;
  readonly value: number;
}

/** Hyperparameters of the greatest marginal likelihood over both kernels, each from several starts drawn from the seed. null: none has a likelihood. */
export function likeliest(samples: Samples, { seed, poll }: { seed: number; poll: () => void }): Hyperparameters | null {
  const few = { points: samples.points.slice(0, FEW), z: samples.z.subarray(0, FEW) };
  const d = samples.points[0].length;
  let best: Likelihood | null = null;
  for (const kernel of KERNEL_NAMES) {
    let start: Likelihood | null = null;
    for (let k = 0; k < STARTS; k++) start = better(start, nearest(few, startOf(kernel, d, { seed, k }), { poll }));
    if (start) best = better(best, nearest(samples, start.hyperparameters, { poll }));
  }
  return best?.hyperparameters ?? null;
}

/** The local maximum that these lead to. */
export function nearest(
  samples: Samples,
  { kernel, lengths, noise }: Hyperparameters,
  { poll, mostSteps = STEPS }: { poll: () => void; mostSteps?: number },
): Likelihood | null {
  const d = lengths.length;
  const at = (x: Float64Array): Hyperparameters => ({ kernel, lengths: Array.from(x.subarray(0, d), Math.exp), noise: Math.exp(x[d]) });
  const end = ascend(
    (x) => {
      poll();
      return logMarginalLikelihood(samples, at(x));
    },
    [...Array.from(lengths, Math.log), Math.log(noise)],
    {
      lower: [...Array(d).fill(LENGTHS.least), NOISE.least],
      upper: [...Array(d).fill(LENGTHS.most), NOISE.most],
      ...{ mostSteps, enough: ENOUGH },
    },
  );
  return end && { hyperparameters: at(end.x), value: end.value };
}

const better = (a: Likelihood | null, b: Likelihood | null): Likelihood | null => (!a || (b && b.value > a.value) ? b : a);

/** The first start: lengths as long as the axes, hardly any noise; the others: drawn. */
function startOf(kernel: KernelName, d: number, { seed, k }: { seed: number; k: number }): Hyperparameters {
  if (k === 0) return { kernel, lengths: Array(d).fill(1), noise: 1e-4 };
  const { uniform } = deviates(seed, k);
  const lengths = Array.from({ length: d }, () => Math.exp(-1.5 + 3 * uniform()));
  return { kernel, lengths, noise: 10 ** (-6 + 5 * uniform()) };
}
