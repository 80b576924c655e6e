import { createHash } from 'node:crypto';
import { ENGINE_VERSION, type Result, resolvedInput } from '../../openapi/index.ts';
import { inputHash, type Records, type Submission } from '../../prisma/index.ts';

const sphere = (outsideDiameterMm: number) => ({
  carrier: { shape: 'sphere', outsideDiameterMm },
  tiling: { kind: 'goldberg', m: 3, n: 3 },
  layers: [{ depthMm: 0, strutDiameterMm: 4 }],
});
const money = (amount: number) => ({ amount, currency: 'EUR' });
const material = {
  key: 'school-soft',
  revision: 1,
  family: 'TPU',
  densityGCm3: 1.1,
  modulusMPa: 60,
  poisson: 0.45,
  lossFactor: 0.12,
  bulkDensityGCm3: 0.5,
  virginSharePct: 50,
  pricePerKg: money(90),
  shrinkagePct: [2.5, 2.5, 2.5],
};
const buildVolume = {
  sizeMm: [300, 300, 400],
  wallMarginMm: 10,
  partSpacingMm: 5,
  layerMm: 0.1,
  recoatS: 10,
  minLayerS: 12,
  scanSpeedMmS: 4000,
  contourSpeedMmS: 2000,
  hatchMm: 0.2,
  warmUpHours: 2,
  coverMm: 5,
  coolDownHoursPerBuildHour: 1,
  hourlyRate: money(25),
  setUpHours: 0.5,
};

/** A checked input; inputs of different diameters are different computations. */
export const sampleInput = (outsideDiameterMm: number, labels: { key?: string; revision?: number } = {}) =>
  resolvedInput.parse({
    parameterSet: sphere(outsideDiameterMm),
    material: { ...material, ...labels },
    buildVolume,
    reference: null,
    tests: { depth: 'geometry' },
  });

export const sampleParameterSet = sampleInput(160).parameterSet;

/** A submission of the sample input; the rest can be set. */
export function sampleSubmission(outsideDiameterMm: number, set: Partial<Submission> = {}): Submission {
  const input = sampleInput(outsideDiameterMm);
  return { input, inputHash: inputHash(input), engineVersion: ENGINE_VERSION, designId: null, versionId: null, ...set };
}

/** A result with the given numbers; those that history reads differ from each other, so that none can stand in for another. */
export function sampleResult({ massG = 300, hours = 10, cost = 20, verdict = 'pass' as Result['printability']['verdict'] } = {}): Result {
  const zero: [number, number, number] = [0, 0, 0];
  return {
    engine: { version: ENGINE_VERSION, inputHash: 'sha256:0' },
    geometry: {
      triangulationNumber: 27,
      cellSizeMm: 18.4,
      neighbouringTilings: [],
      nodeCount: 540,
      strutCount: 810,
      cellCount: 272,
      pentagonCount: 12,
      hexagonCount: 260,
      nodeRadiusMm: [78],
      outsideDiameterMm: 160,
      circumferenceMm: 500,
      strutLengthMm: { min: 7, mean: 8, max: 9 },
      cellOpeningMm: [
        { layer: 0, min: 6.5, max: 8 },
        { layer: 1, min: 5.5, max: 7 },
      ],
      edgeUniformityPct: 1,
      distinctStrutLengths: 3,
      strutsAcrossSplitPlane: 9,
    },
    massProperties: {
      volumeMm3: 272000,
      massG,
      sumOfCylindersMassG: 301,
      relativeDensityPct: 12,
      centreOfMassMm: zero,
      inertiaGMm2: [zero, zero, zero],
      principalInertiaGMm2: zero,
    },
    balance: {
      halfMassDifferencePct: 0,
      largestHalfMassDifferencePct: 0.3,
      centreOfMassOffsetMm: 0.01,
      inertiaSpreadPct: 0.02,
      radialRunoutMm: 0.03,
    },
    material: null,
    joints: null,
    stiffness: null,
    vibration: null,
    rebound: null,
    life: null,
    motion: null,
    variation: null,
    printability: { verdict, checks: [] },
    build: {
      fits: true,
      partsPerBuild: 4,
      arrangement: 'one layer',
      heightMm: 170,
      layerCount: 1700,
      scanHours: 4,
      recoatHours: 5,
      waitHours: 0,
      warmUpHours: 2,
      coolDownHours: 9,
      totalHours: hours,
      packingDensityPct: 3,
      assumptions: [],
      asBuilt: {
        scale: [1, 1, 1],
        outsideDiameterMm: [160, 160, 160],
        packingDiameterMm: 160,
        strutDiameterMm: { min: 3, max: 4 },
        volumeMm3: 270_000,
        assumptions: [],
      },
      mark: null,
      orientations: null,
    },
    cost: {
      powderKgPerBuild: 12,
      virginPowderKgPerBuild: 6,
      powderCostPerPart: money(12),
      machineCostPerPart: money(8),
      totalPerPart: money(cost),
      assumptions: [],
      curve: [],
    },
    targets: [],
    warnings: [],
  };
}

/** A team to test with. */
export const newTeam = async ({ teams }: Records) => (await teams.create({ name: 'Harbour Schools League' })).id;

/** A key as it would be stored: of text, so that tests can name it. */
export const newKey = (text: string) => ({
  name: text,
  role: 'member' as const,
  prefix: text.slice(0, 6),
  hash: createHash('sha256').update(text).digest('hex'),
});

/** Submits, claims and finishes; answers the evaluation's id. */
export async function evaluated(records: Records, teamId: string, submission: Submission, result = sampleResult()): Promise<string> {
  const { evaluation } = await records.evaluations.submit(teamId, submission);
  await records.computations.claim(evaluation.computationId, 'worker');
  await records.computations.finish(evaluation.computationId, { result, files: [] });
  return evaluation.id;
}
