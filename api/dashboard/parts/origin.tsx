import type { Origin } from '../../../openapi/index.ts';

/** The version that something was posted from. */
export const From = ({ origin }: { origin: Origin | null }) =>
  origin && <a href={`#/designs/${origin.designId}`}>From version {origin.version}</a>;

/** Address of the form that makes a version of what an evaluation tried, based on where it came from. */
export function keeping(evaluationId: string, origin: Origin | null): string {
  const of = origin && { design: origin.designId, 'based-on': String(origin.version) };
  return `#/new?${new URLSearchParams({ evaluation: evaluationId, ...of })}`;
}
