import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { BatchForm } from '../parts/batch-form.tsx';
import { Effects } from '../parts/effects.tsx';
import { Newest } from '../parts/newest.tsx';
import { From } from '../parts/origin.tsx';
import { Pareto } from '../parts/pareto.tsx';
import { Problem, Shown, State } from '../parts/shown.tsx';
import { WhatIf } from '../parts/what-if.tsx';
import { isLive, roughly, useResource } from '../use-resource.ts';
import { ago, duration } from '../words.ts';

type Batch = Answer<'/v1/batches/{id}'>;

/** Nights of evaluations: how far each is and how long it will take. */
export function Batches({ id, query }: { id: string | null; query: URLSearchParams }) {
  return id ? <One id={id} /> : <All query={query} />;
}

function All({ query }: { query: URLSearchParams }) {
  return (
    <>
      <h1 tabIndex={-1}>Batches</h1>
      <div class="grid">
        <BatchForm query={query} />
        <div class="stack">
          <Newest<Batch> of="/v1/batches">
            {(items) =>
              items.map((each) => (
                <article key={each.id} class="card">
                  <h2>
                    <a href={`#/batches/${each.id}`}>{each.name || `${each.counts.total} points`}</a>
                  </h2>
                  <Progress batch={each} />
                </article>
              ))
            }
          </Newest>
        </div>
      </div>
    </>
  );
}

function Progress({ batch: { status, counts, secondsLeft, createdAt } }: { batch: Batch }) {
  const ended = counts.done + counts.failed + counts.cancelled;
  return (
    <>
      <p>
        <State is={status} />
        <span class="quiet"> · posted {ago(createdAt)}</span>
      </p>
      <label>
        {ended} of {counts.total}
        {counts.failed > 0 && `, ${counts.failed} failed`}
        {secondsLeft !== null && `, about ${duration(secondsLeft)} left`}
        <progress max={counts.total} value={ended} />
      </label>
    </>
  );
}

function One({ id }: { id: string }) {
  const batch = useResource<Batch>(`/v1/batches/${id}`, { everyMs: 1500, isLive });
  const [error, setError] = useState<Refused | null>(null);
  const change = (method: 'PATCH' | 'DELETE', body?: object) =>
    ask(`/v1/batches/${id}`, { method, body }).then(() => {
      setError(null);
      batch.refresh();
    }, setError);
  return (
    <Shown of={batch}>
      {(found) => (
        <>
          <h1 tabIndex={-1}>{found.name || 'Batch'}</h1>
          <section class="card">
            <Progress batch={found} />
            <div class="row">
              {found.status === 'running' && (
                <button type="button" onClick={() => change('PATCH', { status: 'paused' })}>
                  Pause
                </button>
              )}
              {found.status === 'paused' && (
                <button type="button" onClick={() => change('PATCH', { status: 'running' })}>
                  Go on
                </button>
              )}
              {found.finishedAt === null && found.status !== 'cancelled' && (
                <button type="button" onClick={() => change('DELETE')}>
                  Cancel
                </button>
              )}
              <a href={`#/evaluations?batchId=${id}`}>Its evaluations</a>
              <From origin={found.origin} />
            </div>
            {error && <Problem error={error} />}
          </section>
          <section class="card">
            <h2>What is varied</h2>
            <ul>
              {found.vary.map(({ path, values, from, to, steps, choices }) => (
                <li key={path}>
                  <code>{path}</code>{' '}
                  {values
                    ? values.join(', ')
                    : choices
                      ? choices.map((each) => (typeof each === 'object' ? JSON.stringify(each) : String(each))).join(', ')
                      : `${from} to ${to}${steps ? ` in ${steps} steps` : ''}`}
                </li>
              ))}
            </ul>
          </section>
          <Pareto of={`batchId=${id}`} done={roughly(found.counts.done, isLive(found))} />
          {found.counts.done > 0 && <Effects batchId={id} done={roughly(found.counts.done, isLive(found))} />}
          <WhatIf of={{ batchId: id }} done={found.counts.done} />
          {found.refusals.length > 0 && (
            <section class="card">
              <h2>Points that are refused</h2>
              <ul>
                {found.refusals.map(({ index, errors }) => (
                  <li key={index}>
                    {index}: {errors.map(({ pointer, detail }) => `${pointer} ${detail}`).join('; ')}
                  </li>
                ))}
              </ul>
            </section>
          )}
        </>
      )}
    </Shown>
  );
}
