import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { Drift } from '../parts/drift.tsx';
import { Newest } from '../parts/newest.tsx';
import { ReevaluationForm } from '../parts/reevaluation-form.tsx';
import { Problem, Shown, State } from '../parts/shown.tsx';
import { isLive, useResource } from '../use-resource.ts';
import { ago, duration, inWords } from '../words.ts';

type Reevaluation = Answer<'/v1/reevaluations/{id}'>;
type Summary = Answer<'/v1/reevaluations'>['items'][number];

/** What a newer engine makes of earlier evaluations. */
export const Reevaluations = ({ id }: { id: string | null }) => (id ? <One id={id} /> : <All />);

function All() {
  return (
    <>
      <h1 tabIndex={-1}>Computed again</h1>
      <div class="grid">
        <ReevaluationForm />
        <div class="stack">
          <Newest<Summary> of="/v1/reevaluations">
            {(items) =>
              items.map((each) => (
                <article key={each.id} class="card">
                  <h2>
                    <a href={`#/reevaluations/${each.id}`}>{each.name || 'Computed again'}</a>
                  </h2>
                  <Progress of={each} />
                </article>
              ))
            }
          </Newest>
        </div>
      </div>
    </>
  );
}

function Progress({ of: { status, counts, upToDate, secondsLeft, createdAt } }: { of: Summary }) {
  const ended = counts.done + counts.failed + counts.cancelled;
  return (
    <>
      <p>
        <State is={status} />
        <span class="quiet">
          {' '}
          · posted {ago(createdAt)}
          {secondsLeft !== null && `, ${duration(secondsLeft)} left`}
        </span>
      </p>
      <label>
        {ended} of {counts.total}
        <progress value={ended} max={counts.total || 1} />
      </label>
      {upToDate > 0 && <p class="quiet">{upToDate} more were computed by this engine before.</p>}
    </>
  );
}

function One({ id }: { id: string }) {
  const found = useResource<Reevaluation>(`/v1/reevaluations/${id}`, { everyMs: 1500, isLive });
  const [error, setError] = useState<Refused | null>(null);
  const cancel = () => ask(`/v1/reevaluations/${id}`, { method: 'DELETE' }).then(found.refresh, setError);
  return (
    <Shown of={found}>
      {(it) => (
        <>
          <h1 tabIndex={-1}>{it.name || 'Computed again'}</h1>
          <section class="card">
            <Progress of={it} />
            <p>{inWords(it.summary)}</p>
            {it.warnings.map(({ message }) => (
              <p key={message} class="state state-warn">
                ! {message}
              </p>
            ))}
            <div class="row">
              {isLive(it) && (
                <button type="button" onClick={cancel}>
                  Cancel
                </button>
              )}
              <a href={`#/evaluations?reevaluationId=${id}`}>Its evaluations</a>
            </div>
            {error && <Problem error={error} />}
          </section>
          <Drift of={it.drift} />
        </>
      )}
    </Shown>
  );
}
