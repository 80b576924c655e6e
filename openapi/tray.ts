import { z } from 'zod';
import { buildFigures, versionMark } from './build-result.ts';
import { inlineBuildVolume } from './build-volume.ts';
import { identifier, money, recordKey } from './common.ts';
import { runError } from './evaluation.ts';
import { inlineMaterial } from './material.ts';
import { settledParameterSet } from './parameter-set.ts';
import { warning } from './result.ts';
import { runState } from './run-state.ts';

const MOST_PARTS = 24;
const MOST_COPIES = 240;

export const trayRequest = z
  .strictObject({
    parts: z
      .array(z.strictObject({ versionId: identifier, count: z.int().min(1).max(MOST_COPIES) }))
      .min(1)
      .max(MOST_PARTS)
      .superRefine((parts, context) => {
        for (const [k, { versionId }] of parts.entries()) {
          if (parts.findIndex((each) => each.versionId === versionId) === k) continue;
          context.addIssue({
            code: 'custom',
            path: [k, 'versionId'],
            input: versionId,
            message: 'named twice; allowed: each version once, with its count',
          });
        }
        const copies = parts.reduce((sum, { count }) => sum + count, 0);
        if (copies > MOST_COPIES)
          context.addIssue({ code: 'custom', path: [], input: copies, message: `${copies} copies; allowed: at most ${MOST_COPIES}` });
      }),
    material: z.union([recordKey, inlineMaterial]).meta({ description: 'The key of a material, or a whole record' }),
    buildVolume: z.union([recordKey, inlineBuildVolume]).meta({ description: 'The key of a build volume, or a whole record' }),
    marks: z.enum(['numbers', 'none']).default('numbers').meta({
      description:
        'numbers: every part carries the number of its version, or, where two versions have one number, its place in the list, told by pins; none: no part carries a mark',
    }),
  })
  .meta({ id: 'TrayRequest' });
export type TrayRequest = z.infer<typeof trayRequest>;

/** What is hashed, stored and handed to the engine. */
export const trayInput = z
  .strictObject({
    parts: z.array(
      z.strictObject({
        versionId: identifier,
        parameterSet: settledParameterSet,
        count: z.int(),
        mark: z.int().nullable().meta({ description: 'Number that the part is to carry' }),
      }),
    ),
    material: inlineMaterial,
    buildVolume: inlineBuildVolume,
  })
  .meta({ id: 'TrayInput' });
export type TrayInput = z.infer<typeof trayInput>;

const place = z.tuple([z.number(), z.number(), z.number()]);
const count = z.int();
export const trayResult = z
  .strictObject({
    engine: z.strictObject({ version: z.string(), inputHash: z.string() }),
    fits: z.boolean().meta({ description: 'Whether every copy found a place' }),
    parts: z.array(
      z.strictObject({
        versionId: identifier,
        markedName: z.string(),
        count,
        placed: count,
        left: count.meta({ description: 'Copies that found no place' }),
        outsideDiameterMm: z.number().meta({ description: 'As designed' }),
        massG: z.number().meta({ description: 'Of one copy, its mark counted' }),
        sinteredVolumeMm3: z.number().meta({ description: 'Of one copy as built, shrinkage compensation included' }),
        totalPerPart: money.nullable().meta({ description: 'null: no copy was placed' }),
        mark: versionMark.nullable(),
      }),
    ),
    placements: z.array(
      z.strictObject({
        versionId: identifier,
        markedName: z.string(),
        centreMm: place.meta({ description: "Centre of the part's sphere from the chamber's lower corner" }),
        diameterMm: z.number().meta({ description: 'Of that sphere, shrinkage compensation included' }),
      }),
    ),
    leastGapMm: z.number().nullable().meta({ description: "Smallest gap between two parts' spheres; null for fewer than two" }),
    scale: place.meta({ description: 'Built size over designed size along x, y, z: shrinkage compensation' }),
    layerS: z
      .strictObject({ min: z.number(), mean: z.number(), max: z.number() })
      .meta({ description: 'What a layer takes, recoating and waiting included; layers.json has every layer' }),
    build: z.strictObject(buildFigures),
    cost: z
      .strictObject({
        powderKgPerBuild: z.number(),
        virginPowderKgPerBuild: z.number(),
        powderCost: money,
        machineCost: money,
        total: money,
        assumptions: z.array(z.string()),
      })
      .nullable(),
    warnings: z.array(warning),
  })
  .meta({ id: 'TrayResult' });
export type TrayResult = z.infer<typeof trayResult>;

export const tray = z
  .strictObject({
    ...runState,
    input: trayInput,
    result: trayResult.nullable().meta({ description: 'null unless status is done' }),
    error: runError.nullable(),
  })
  .meta({ id: 'Tray', description: 'One build of given versions and counts' });
export type Tray = z.infer<typeof tray>;

export const traySummary = z
  .strictObject({ ...runState, parts: z.array(z.strictObject({ versionId: identifier, count })) })
  .meta({ id: 'TraySummary' });
export type TraySummary = z.infer<typeof traySummary>;
