import { rigidBodyOf, rollTest } from '../engine/motion/index.ts';
import { integrateUnion, MOMENTS, makeMoments, massProperties, meanWidth, unionSurface } from '../engine/solid/index.ts';
import { COMMON_VARIATION, exactFigures, makePrinter, partFigures, quickWeighing } from '../engine/vary/index.ts';
import { timed } from './clock.ts';
import { doubleShell, latticeOf } from './lattices.ts';
import { checksumOf, type Row, shownMs } from './row.ts';

const PARTS = 100;
const MASS = 'massProperties.massG';
const INPUT = 'GP(3,3), two layers at 90 and 75 mm: 2 160 struts';
const lattice = latticeOf(doubleShell(3, 3, [3, 2.5, 2.5]));
const { graph, symmetry, nodesPerLayer } = lattice;

/** Weighing parts as printed to first order, beside the union of each integrated anew; and rolling one over the floor. */
export async function printedPartRows(): Promise<Row[]> {
  const surface = unionSurface(graph);
  const union = integrateUnion(graph, surface, symmetry);
  const nominal = { graph, outerNodes: nodesPerLayer, circumferenceMm: Math.PI * meanWidth(graph, nodesPerLayer), densityGMm3: 1.1e-3 };
  const weigh = quickWeighing(graph, surface, union, symmetry);
  const print = makePrinter(graph, COMMON_VARIATION, 1);
  const moments = makeMoments();
  const all = () =>
    Array.from({ length: PARTS }, (_, k) => {
      const part = print(k);
      return partFigures(nominal, part, moments, weigh(part, moments))[MASS];
    });
  const quick = await timed(all, { warmUps: 2, runs: 5 });
  const exact = await timed(() => exactFigures(nominal, print(0))[MASS], { warmUps: 1, runs: 3 });
  const ratio = (PARTS * exact.cpuMs) / quick.cpuMs;
  const off = (100 * Math.abs(quick.last[0] / exact.last - 1)).toPrecision(2);
  const { minMs, medianMs, maxMs } = quick;
  return [
    {
      name: `${PARTS} printed parts drawn and weighed`,
      input: `${INPUT}, common variation, seed 1, ${MOMENTS} moments each`,
      checksum: checksumOf(quick.last),
      ...{ minMs, medianMs, maxMs },
      beside: `processor time of one ${shownMs(quick.cpuMs / PARTS)}; of its union integrated anew ${shownMs(exact.cpuMs)}: ${ratio.toFixed(0)} times as much; masses ${off} % apart`,
    },
    await rollRow(massProperties(union.moments, [0, 0, 0], nominal.densityGMm3)),
  ];
}

async function rollRow(mass: ReturnType<typeof massProperties>): Promise<Row> {
  const body = rigidBodyOf(lattice, mass);
  const test = { distanceMm: 3000, speedMmS: 2000, starts: 4, seed: 1, stiffnessNPerMm: 20, lossFactor: 0.12, friction: 0.8 };
  const { last, minMs, medianMs, maxMs } = await timed(() => rollTest(body, test), { warmUps: 1, runs: 5 });
  if (last.kind === 'refused') throw new Error(last.message);
  return {
    name: 'four rolls over 3 m',
    input: `${INPUT}, 2 m/s, 20 N/mm a corner, seed 1`,
    checksum: checksumOf(last.byStart.map(({ timeS }) => timeS)),
    ...{ minMs, medianMs, maxMs },
    beside: `strays by ${last.deviationMm?.mean.toPrecision(3)} mm on average; energy account within ${last.balanceErrorPct.toPrecision(2)} %`,
  };
}
