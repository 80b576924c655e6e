import { z } from 'zod';

export const engineVersion = z
  .string()
  .regex(/^\d{1,4}(?:\.\d{1,4}){2}$/, 'three numbers with dots, such as 1.4.0')
  .meta({ description: 'Version of the engine', examples: ['1.4.0'] });

export const engineVersionCount = z
  .strictObject({ engineVersion: z.string(), count: z.int().min(1) })
  .meta({ id: 'EngineVersionCount', description: 'How many evaluations were computed by a version of the engine' });
export type EngineVersionCount = z.infer<typeof engineVersionCount>;

export const engineVersionsWarning = z
  .strictObject({ code: z.literal('mixed-engine-versions'), message: z.string(), engineVersions: z.array(engineVersionCount) })
  .meta({ id: 'EngineVersionsWarning', description: 'What is put side by side was computed by several versions of the engine' });
export type EngineVersionsWarning = z.infer<typeof engineVersionsWarning>;
export const engineVersionsWarnings = z
  .array(engineVersionsWarning)
  .meta({ description: 'Empty, or one where its evaluations were computed by several versions of the engine' });

/** Evaluations by the version of the engine that computed them. */
export function countsOf(evaluations: readonly { engineVersion: string }[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { engineVersion } of evaluations) counts[engineVersion] = (counts[engineVersion] ?? 0) + 1;
  return counts;
}

/** The older version first. */
export function inOrder(counts: Readonly<Record<string, number>>): EngineVersionCount[] {
  const known = Object.entries(counts).filter(([, count]) => count > 0);
  known.sort(([a], [b]) => a.localeCompare(b, 'en', { numeric: true }));
  return known.map(([version, count]) => ({ engineVersion: version, count }));
}

/** What to warn of, where evaluations of several versions of the engine stand side by side. */
export function mixedVersions(counts: Readonly<Record<string, number>>): EngineVersionsWarning[] {
  const engineVersions = inOrder(counts);
  if (engineVersions.length < 2) return [];
  const told = engineVersions.map((each) => `${each.engineVersion} (${each.count})`).join(', ');
  const message = `Computed by several versions of the engine: ${told}. Numbers may differ by the engine too; evaluate the older ones again to compare`;
  return [{ code: 'mixed-engine-versions', message, engineVersions }];
}
