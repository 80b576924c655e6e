import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { front } from '../engine/front/index.ts';
import { deviates } from '../engine/probability/index.ts';
import { fitSurface, logMarginalLikelihood, surfacePredictor } from '../engine/regression/index.ts';
import { timed } from './clock.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

const POINTS = 300;
const NUMBERS = 6;
const EVALUATIONS = 20_000;

/** What is asked of a night of evaluations: fronts, surfaces, and what surfaces expect. */
export async function learntRows(): Promise<Row[]> {
  return [await frontRow(), await likelihoodRow(), await surfaceRow()];
}

const drawn = (count: number, k: number) => {
  const { uniform } = deviates(1, k);
  return Array.from({ length: count }, () => Array.from({ length: k }, uniform));
};

/** Peer: each in the order of the first quantity against all that were kept so far. */
async function frontRow(): Promise<Row> {
  const points = drawn(EVALUATIONS, 3).map((each) => {
    const length = Math.hypot(...each);
    return each.map((x) => x / length);
  });
  const { minMs, medianMs, maxMs, last } = await timed(() => front(points), { warmUps: 1, runs: 3 });
  const peer = await timed(() => keptOneByOne(points), { warmUps: 0, runs: 1 });
  if (peer.last !== last.length) throw new Error(`${peer.last} kept one by one, ${last.length} by the front`);
  return {
    name: 'front of three quantities, none beaten',
    input: `${EVALUATIONS} points drawn on a sphere`,
    checksum: checksumOf(last),
    ...{ minMs, medianMs, maxMs },
    beside: `compared one by one ${shownMs(peer.medianMs)}: ${(peer.medianMs / medianMs).toFixed(0)} times as much`,
  };
}

function keptOneByOne(points: readonly (readonly number[])[]): number {
  const kept: (readonly number[])[] = [];
  for (const b of [...points].sort((p, q) => p[0] - q[0]))
    if (!kept.some((a) => a[0] <= b[0] && a[1] <= b[1] && a[2] <= b[2])) kept.push(b);
  return kept.length;
}

const SCRIPT = `
import sys, json, time, warnings, numpy as np, sklearn
warnings.filterwarnings('ignore')
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, WhiteKernel
given = json.loads(sys.argv[1])
model = GaussianProcessRegressor(RBF([1.0] * len(given['points'][0])) + WhiteKernel(1e-3), alpha=0, optimizer=None).fit(np.array(given['points']), np.array(given['z']))
runs = []
for k in range(10):
    t = time.process_time()
    value, slope = model.log_marginal_likelihood(model.kernel_.theta, eval_gradient=True)
    runs.append(1000 * (time.process_time() - t))
print(json.dumps(dict(version=sklearn.__version__, bestMs=min(runs), value=value)))
`;

/** What a fit does some hundred times. */
async function likelihoodRow(): Promise<Row> {
  const points = drawn(POINTS, NUMBERS);
  const z = points.map((each) => Math.sin(3 * each[0]) + each[1]);
  const samples = { points: points.map((each) => Float64Array.from(each)), z: Float64Array.from(z) };
  const of = { kernel: 'squared-exponential', lengths: new Array(NUMBERS).fill(1), noise: 1e-3 } as const;
  const { minMs, medianMs, maxMs, last } = await timed(() => logMarginalLikelihood(samples, of, 1)!, { warmUps: 3, runs: 10 });
  const row = {
    name: 'marginal likelihood and its slopes',
    input: `Gaussian process of ${POINTS} points of ${NUMBERS} numbers`,
    checksum: checksumOf([last.value]),
    ...{ minMs, medianMs, maxMs },
  };
  for (const python of ['python3', '/usr/bin/python3']) {
    const env = { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' };
    const told = await promisify(execFile)(python, ['-c', SCRIPT, JSON.stringify({ points, z })], { env }).catch(() => null);
    if (!told) continue;
    const { version, bestMs, value } = JSON.parse(told.stdout) as { version: string; bestMs: number; value: number };
    const ratio = `${(bestMs / minMs).toFixed(2)} times as much; values ${Math.abs(value - last.value).toExponential(0)} apart`;
    return { ...row, beside: `scikit-learn ${version}, one thread, at its best ${shownMs(bestMs)}: ${ratio}` };
  }
  return { ...row, beside: 'no python3 with scikit-learn here: no peer beside it' };
}

async function surfaceRow(): Promise<Row> {
  const rows = drawn(POINTS, NUMBERS);
  const values = rows.map((each) => Math.exp(each[0]) * (1 + each[1]) + Math.sin(3 * each[2]) + each[3] * each[4]);
  const data = { factors: rows[0].map(() => ({ choices: null })), rows, values };
  const { minMs, medianMs, maxMs, last } = await timed(() => fitSurface(data), { warmUps: 0, runs: 3 });
  const asked = await timed(() => rows.slice(0, 100).map(surfacePredictor(data, last)), { warmUps: 2, runs: 10 });
  return {
    name: 'response surface, both models, ten folds',
    input: `${POINTS} points of ${NUMBERS} numbers`,
    checksum: checksumOf([Number(last.rmse.toPrecision(3))]),
    ...{ minMs, medianMs, maxMs },
    beside: `${last.model.kind}, ${last.model.form}, error ${(100 * Math.sqrt(1 - last.explained)).toFixed(2)} % of the deviation; asked about 100 points ${shownMs(asked.medianMs)}`,
    asked: 'a hundred points within 100 ms',
    met: asked.medianMs < 100,
  };
}
