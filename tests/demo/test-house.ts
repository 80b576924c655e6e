import type { Material, Result, TestMeasurementBody, Version } from '../../openapi/index.ts';
import { answered } from './answer.ts';
import { CONDITIONS, DROPPED, INVENTED, PRESSED } from './brief.ts';
import type { Desk } from './desk.ts';
import { evaluate } from './follow.ts';
import { silent } from './progress.ts';

/**
 * The test house of the story. Nothing was printed: what it measures is what the engine computes of a powder that nobody else in the story knows, with
 * scatter from part to part and instruments that are a little off. So the numbers are invented, and hang together as those of real prints would.
 */
const SECRET = { densityFactor: 0.975, modulusFactor: 1.12, lossFactorFactor: 1.06, strutGrowthMm: { inLayer: 0.13, upright: 0.06 } };

/** By how much each part differs from the mean of all, per cent; of its stiffness three times, of its bounce half as much. */
const PARTS_PCT = [-0.32, 0.21, 0.38, -0.12, -0.08];
/** What instruments are off by, per cent. */
const OFF_PCT = { scale: 0.05, tape: 0.1, press: 1.2, video: -0.3 };

export type Truth = Result & { stiffness: NonNullable<Result['stiffness']>; rebound: NonNullable<Result['rebound']> };

/** What a part of this version is like in truth; the version and its history do not learn of it. */
export async function truthOf({ client, signal }: Desk, { parameterSet }: Version): Promise<Truth> {
  const path = { key: CONDITIONS.material };
  const material = secretly(answered(await client.GET('/v1/materials/{key}', { params: { path } })) as Material);
  const tests = { depth: 'full' as const, ...PRESSED, drop: DROPPED };
  const request = { parameterSet, material, buildVolume: CONDITIONS.buildVolume, tests };
  const { evaluation } = await evaluate(client, request, { progress: silent, signal });
  const { stiffness, rebound } = evaluation.result;
  if (!stiffness || !rebound) throw new Error('The full evaluation left out stiffness or rebound');
  return { ...evaluation.result, stiffness, rebound };
}

function secretly({ key: _, revision: __, builtIn: ___, ...record }: Material) {
  const { densityFactor, modulusFactor, lossFactorFactor, strutGrowthMm } = SECRET;
  return {
    ...record,
    densityGCm3: record.densityGCm3 * densityFactor,
    modulusMPa: record.modulusMPa * modulusFactor,
    lossFactor: (record.lossFactor ?? 0) * lossFactorFactor,
    strutGrowthMm,
  };
}

/** Every test of the part with this place among the parts: weighed, measured round and across, pressed, dropped three ways up. */
export function testsOf(truth: Truth, serial: string, place: number): TestMeasurementBody[] {
  const part = PARTS_PCT[place % PARTS_PCT.length];
  const read = (value: number, digits: number, ...pct: number[]) =>
    Number(pct.reduce((product, each) => product * (1 + each / 100), value).toFixed(digits));
  const common = (instrument: string, minute: number) => ({
    ...{ serial, instrument, notes: INVENTED, operator: 'KB' },
    measuredAt: `2027-03-0${4 + Math.floor(minute / 60)}T10:${String(place).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}Z`,
  });
  const { massProperties, geometry, stiffness, rebound } = truth;
  const { circumferenceMm, outsideDiameterMm } = geometry;
  return [
    { kind: 'mass', unit: 'g', values: [read(massProperties.massG, 1, part, OFF_PCT.scale)], ...common('scale, 0.1 g', 0) },
    { kind: 'circumference', unit: 'mm', values: [read(circumferenceMm, 1, part / 10, OFF_PCT.tape)], ...common('tape', 10) },
    {
      ...{ kind: 'diameter', unit: 'mm', ...common('calliper', 20) },
      axes: ['seam', 'upright'].map((axis, k) => ({ axis, values: [read(outsideDiameterMm, 2, part / 10 + 0.03 * k)] })),
    },
    {
      ...{ kind: 'compression', unit: 'mm', forceUnit: 'N', secantAtPct: PRESSED.compression.secantAtPct, ...common('press', 30) },
      curves: [
        stiffness.curve.map(({ deflectionMm, forceN }) => [deflectionMm, read(forceN, 2, 3 * part, OFF_PCT.press)] as [number, number]),
      ],
    },
    {
      ...{ kind: 'rebound', unit: 'mm', dropHeight: DROPPED.heightMm, surface: 'floor of the hall', ...common('video beside a rule', 40) },
      drops: rebound.byOrientation.slice(0, 3).map(({ name, reboundHeightMm }) => ({
        orientation: name,
        bounces: [read(reboundHeightMm ?? 0, 0, part / 2, OFF_PCT.video)],
      })),
    },
  ] as TestMeasurementBody[];
}
