import { FILTERABLE, type Quantity, type Result, result } from '../../openapi/index.ts';
import type { Records } from '../../prisma/index.ts';

/** A result of the contract's form with round numbers; `numbers` puts others in their places. What it says is made up. */
export function madeUpResult(numbers: Partial<Record<Quantity, number>> = {}): Result {
  const eur = (amount: number) => ({ amount, currency: 'EUR' });
  const made = {
    engine: { version: '0.0.0', inputHash: 'sha256:00' },
    geometry: {
      ...{ triangulationNumber: 1, nodeCount: 20, strutCount: 30, cellCount: 12, pentagonCount: 12, hexagonCount: 0, nodeRadiusMm: [79] },
      ...{ outsideDiameterMm: 162.3, circumferenceMm: 505, strutLengthMm: { min: 50, mean: 50, max: 50 } },
      ...{ cellOpeningMm: [{ layer: 0, min: 60, max: 60 }], edgeUniformityPct: 0, distinctStrutLengths: 1, strutsAcrossSplitPlane: 0 },
    },
    massProperties: {
      ...{ volumeMm3: 20_000, massG: 22, sumOfCylindersMassG: 24, relativeDensityPct: 0.9, centreOfMassMm: [0, 0, 0] },
      ...{
        inertiaGMm2: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
        principalInertiaGMm2: [1, 1, 1],
      },
    },
    balance: { halfMassDifferencePct: 0, largestHalfMassDifferencePct: 0, centreOfMassOffsetMm: 0, inertiaSpreadPct: 0, radialRunoutMm: 0 },
    ...{ stiffness: null, rebound: null, life: null },
    printability: { verdict: 'pass', checks: [] },
    build: {
      ...{
        fits: true,
        partsPerBuild: 4,
        arrangement: 'side by side',
        heightMm: 170,
        layerCount: 1700,
        scanHours: 1,
        recoatHours: 5,
        waitHours: 0,
      },
      ...{ warmUpHours: 2, coolDownHours: 8, totalHours: 16, packingDensityPct: 1, assumptions: [] },
    },
    cost: {
      ...{
        powderKgPerBuild: 10,
        virginPowderKgPerBuild: 5,
        powderCostPerPart: eur(9),
        machineCostPerPart: eur(100),
        totalPerPart: eur(109),
      },
      assumptions: [],
    },
    ...{ targets: [], warnings: [] },
  };
  for (const [quantity, value] of Object.entries(numbers)) {
    const path = FILTERABLE[quantity as Quantity].split('.');
    const last = path.pop()!;
    const holder = path.reduce<Record<string, never>>((here, key) => here[key], made as never);
    holder[last] = value as never;
  }
  return result.parse(made);
}

/** Does what a worker would do with an evaluation's computation: takes it and stores a result. */
export async function finish({ evaluations, computations }: Records, teamId: string, id: string, made = madeUpResult()): Promise<void> {
  const { computationId } = (await evaluations.get(teamId, id))!;
  await computations.claim(computationId, 'a test');
  const graph = {
    unit: 'mm',
    nodes: [
      [0, 0, 0],
      [0, 0, 1],
    ],
    struts: [[0, 1, 1, 1]],
    roles: ['layer-0'],
  };
  await computations.finish(computationId, {
    result: made,
    files: [{ name: 'graph.json', mediaType: 'application/json', content: JSON.stringify(graph) }],
  });
}
