import type { Origin } from '../../../openapi/index.ts';
import { useResource } from '../use-resource.ts';

/** Of which undertaking evaluations are, as their list and their addresses say. */
export type Members = `batchId=${string}` | `searchId=${string}`;

/** The version that something was posted from. */
export const From = ({ origin }: { origin: Origin | null }) =>
  origin && <a href={`#/designs/${origin.designId}`}>From version {origin.version}</a>;

/** Address of the form that makes a version of what an evaluation tried, based on where it came from. */
export function keeping(evaluationId: string, origin: Origin | null): string {
  const of = origin && { design: origin.designId, 'based-on': String(origin.version) };
  return `#/new?${new URLSearchParams({ evaluation: evaluationId, ...of })}`;
}

/** Of an evaluation without a version: the search or batch that the address says it is of, and the way to keep it. */
export function Unkept({ id, query }: { id: string; query: URLSearchParams }) {
  const [kind, list] = query.has('searchId') ? ['search', 'searches'] : ['batch', 'batches'];
  const whole = query.get(`${kind}Id`);
  const place = whole && `${list}/${whole}`;
  const of = useResource<{ name: string; origin: Origin | null }>(place && `/v1/${place}`);
  return (
    <>
      {place && of.data && <a href={`#/${place}`}>{of.data.name || `its ${kind}`}</a>}
      {(!place || of.data || of.error) && <a href={keeping(id, of.data?.origin ?? null)}>keep it as a version</a>}
    </>
  );
}
