import { z } from 'zod';
import { money } from './common.ts';

const along = z.tuple([z.number(), z.number(), z.number()]);
const assumptions = z.array(z.string());

const asBuilt = z
  .strictObject({
    scale: along.meta({ description: 'Built size over designed size along x, y, z' }),
    outsideDiameterMm: along,
    packingDiameterMm: z.number().meta({ description: 'Of the sphere that stands for the part in the chamber' }),
    strutDiameterMm: z
      .strictObject({ min: z.number(), max: z.number() })
      .meta({ description: 'Thinnest and thickest section of any strut; a round strut becomes oval where the scales differ' }),
    volumeMm3: z.number(),
    assumptions,
  })
  .meta({ id: 'AsBuilt', description: 'The part as it is built: larger, so that it has its size once it has shrunk' });

const pin = z.strictObject({
  atMm: z.number().meta({ description: "From the strut's first node along its axis" }),
  direction: along,
  reachMm: z.number().meta({ description: "From the strut's axis to the centre of the round tip" }),
  counts: z.number().meta({ description: 'What the pin adds to the number; 0 for the long pin, from which one reads' }),
});
export const versionMark = z
  .strictObject({
    number: z.int(),
    kind: z.literal('pins'),
    strut: z.int().meta({ description: 'Strut of graph.json, which has no mark' }),
    role: z.string(),
    pinDiameterMm: z.number(),
    pinLengthMm: z.number(),
    longPinLengthMm: z.number(),
    pitchMm: z.number(),
    lengthMm: z.number(),
    pins: z.array(pin),
    leastGapMm: z.number().nullable(),
    extraVolumeMm3: z.number(),
    extraMassG: z.number(),
    markedMassG: z.number().meta({ description: 'Of the part and its mark' }),
    imbalance: z.strictObject({
      centreOfMassShiftMm: z.number(),
      centreOfMassOffsetMm: z.number().meta({ description: "Of the marked part, from the carrier's centre" }),
      radiusMm: z.number(),
      unbalanceGMm: z.number(),
      halfMassDifferencePct: z.number().meta({ description: 'Largest that the mark makes, over all planes' }),
    }),
    reading: z.string().meta({ description: 'How to read it, in words' }),
    assumptions,
  })
  .meta({ id: 'VersionMark', description: 'A comb of pins on one strut that says a number in binary' });

const choice = z.strictObject({
  orientation: z.string(),
  spreadPct: z.number().meta({ description: 'How far the worst falls short: 100 (largest - least) / largest' }),
});
const orientations = z
  .strictObject({
    figures: z.array(
      z.strictObject({
        orientation: z.string(),
        totalHours: z.number(),
        totalPerPart: money.nullable(),
        largestLayerAreaMm2: z.number(),
        largestLayerAreaJumpMm2: z.number(),
        meanStairStepMm: z.number().meta({ description: "Steps of the layers on the sides of the outer layer's struts" }),
        longestLevelStrutMm: z.number(),
        uprightSharePct: z.number(),
      }),
    ),
    cheapest: choice.nullable(),
    roundest: choice,
    safest: choice,
    assumptions,
  })
  .meta({ id: 'OrientationComparison', description: 'The part turned every way in the build: cheapest, roundest, safest' });

/** What a build takes, whatever stands in it. */
export const buildFigures = {
  fits: z.boolean(),
  partsPerBuild: z.int(),
  arrangement: z.string().meta({ description: 'How the parts are stacked, in words' }),
  heightMm: z.number().meta({ description: 'Height of the part cake, cover included' }),
  layerCount: z.int(),
  scanHours: z.number(),
  recoatHours: z.number(),
  waitHours: z.number().meta({ description: 'Time that short layers wait for the layer minimum' }),
  warmUpHours: z.number(),
  coolDownHours: z.number(),
  totalHours: z.number().meta({ description: 'Of the build volume: set-up is a cost, not a time in the chamber' }),
  packingDensityPct: z.number().meta({ description: 'Sintered volume over the part cake' }),
  assumptions,
};
export const buildResult = z
  .strictObject({
    ...buildFigures,
    asBuilt,
    mark: versionMark.nullable().meta({
      description: 'null unless build.mark asked for it; graph.json and massProperties are without it, lattice.3mf and cost with it',
    }),
    orientations: orientations.nullable().meta({ description: 'null unless build.compareOrientations asked for it' }),
  })
  .meta({ id: 'BuildResult' });

export const costResult = z
  .strictObject({
    powderKgPerBuild: z.number(),
    virginPowderKgPerBuild: z.number(),
    powderCostPerPart: money,
    machineCostPerPart: money,
    totalPerPart: money.meta({ description: 'At a full build' }),
    assumptions,
    curve: z
      .array(z.strictObject({ parts: z.int(), heightMm: z.number(), totalHours: z.number(), totalPerPart: money }))
      .meta({ description: 'From one part to a full build, each number in its lowest arrangement; thinned to 40 points at most' }),
  })
  .meta({ id: 'CostResult' });
