import { z } from 'zod';

/** What of making is only done when it is asked for, as it is posted. */
export const buildOptions = z
  .strictObject({
    mark: z
      .union([
        z.literal('version'),
        z
          .int()
          .min(1)
          .max(2 ** 24),
      ])
      .optional()
      .meta({
        description:
          'A number that the part is to carry, told by pins on a strut away from contact; version: that of the version named. Where there is no room for it the run fails with no-room-for-mark',
        'x-allowed': '"version", or a whole number from 1 to 16777216',
      }),
    compareOrientations: z.boolean().optional().meta({ description: 'Whether other ways up are sliced and compared' }),
  })
  .meta({ id: 'BuildOptions' });
export type BuildOptions = z.infer<typeof buildOptions>;

/** The same as it is evaluated: the mark is a number, and what is not asked for is not there. */
export const settledBuildOptions = z
  .strictObject({ mark: z.int().optional(), compareOrientations: z.literal(true).optional() })
  .meta({ id: 'SettledBuildOptions' });
export type SettledBuildOptions = z.infer<typeof settledBuildOptions>;

/** undefined where nothing is asked for, so that an input that leaves it out stays the same input. `version`: null where none is named. */
export function settleBuildOptions(
  { mark, compareOrientations }: BuildOptions = {},
  version: number | null,
): SettledBuildOptions | undefined {
  const number = mark === 'version' ? version : mark;
  if (!number && !compareOrientations) return undefined;
  return { ...(number && { mark: number }), ...(compareOrientations && { compareOrientations }) };
}
