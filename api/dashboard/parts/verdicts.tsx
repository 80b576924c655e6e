import type { Answer } from '../client.ts';
import { useResource } from '../use-resource.ts';
import { label, number } from '../words.ts';

export type Targeted = NonNullable<Answer<'/v1/evaluations/{id}'>['result']>['targets'][number];

/** The targets of an evaluation; null until they are known. */
export function useTargets(evaluationId: string | null): readonly Targeted[] | null {
  const found = useResource<Answer<'/v1/evaluations/{id}'>>(evaluationId ? `/v1/evaluations/${evaluationId}` : null);
  return found.data?.result?.targets ?? null;
}

/** How many targets are met, and which are not. */
export function Met({ targets }: { targets: readonly Targeted[] }) {
  if (targets.length === 0) return <span class="quiet">no targets</span>;
  const met = targets.filter(({ within }) => within).length;
  const missed = targets.filter(({ within }) => within === false);
  return (
    <span class={`met state-${met === targets.length ? 'pass' : 'fail'}`}>
      {met} of {targets.length} met
      {missed.length > 0 && (
        <span class="quiet">
          {' '}
          (missed: {missed.map(({ quantity, missPct }) => `${label(quantity).name} by ${number(missPct, 2)} %`).join(', ')})
        </span>
      )}
    </span>
  );
}
