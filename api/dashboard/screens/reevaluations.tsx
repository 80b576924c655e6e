import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { Choice, useDesigns } from '../parts/choices.tsx';
import { TextField } from '../parts/fields.tsx';
import { Newest } from '../parts/newest.tsx';
import { Problem, Shown, State } from '../parts/shown.tsx';
import { numberHeads, Table } from '../parts/table.tsx';
import { go } from '../route.ts';
import { isLive, useResource } from '../use-resource.ts';
import { ago, duration, inWords, label, number } from '../words.ts';

type Reevaluation = Answer<'/v1/reevaluations/{id}'>;
type Summary = Answer<'/v1/reevaluations'>['items'][number];

/** What a newer engine makes of earlier evaluations. */
export const Reevaluations = ({ id }: { id: string | null }) => (id ? <One id={id} /> : <All />);

function All() {
  return (
    <>
      <h1 tabIndex={-1}>Computed again</h1>
      <div class="grid">
        <Form />
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

/** Which earlier evaluations: of a design, with a tag, of a version of the engine; all that is given must hold. */
function Form() {
  const designs = useDesigns();
  const [name, setName] = useState('');
  const [designId, setDesignId] = useState('');
  const [tag, setTag] = useState('');
  const [engineVersion, setEngineVersion] = useState('');
  const [refused, setRefused] = useState<Refused | null>(null);
  const given = Object.fromEntries(Object.entries({ designId, tag, engineVersion }).filter(([, value]) => value !== ''));
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const body = { name, ...given };
    ask<{ id: string }>('/v1/reevaluations', { method: 'POST', body }).then(
      ({ body: made }) => go(`/reevaluations/${made!.id}`),
      setRefused,
    );
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Compute earlier evaluations again</h2>
      <p class="quiet">With the inputs stored with them, by the engine that the service has now. The earlier ones stay.</p>
      <TextField name="name" value={name} onChange={setName} />
      <Choice
        name="of the design"
        value={designId}
        of={[{ value: '', text: 'any' }, ...designs.map((each) => ({ value: each.id, text: each.name }))]}
        onChange={setDesignId}
      />
      <TextField name="with the tag" value={tag} onChange={setTag} />
      <TextField name="computed by engine" value={engineVersion} onChange={setEngineVersion} />
      {refused && <Problem error={refused} />}
      <div class="row">
        <button type="submit" disabled={Object.keys(given).length === 0}>
          Compute again
        </button>
        <span class="quiet" role="status">
          {Object.keys(given).length === 0 && 'Say which first.'}
        </span>
      </div>
    </form>
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
          {it.drift.pairs > 0 && <Quantities of={it.drift.quantities} />}
          <Told
            title="Verdicts that changed"
            items={it.drift.verdicts.items.map((each) => ({ ...each, words: `${each.from} → ${each.to}` }))}
          />
          <Told title="Done before, failed now" items={it.drift.newFailures.items.map((each) => ({ ...each, words: each.message }))} />
          <Told title="Failed before, done now" items={it.drift.pastFailures.items.map((each) => ({ ...each, words: each.message }))} />
        </>
      )}
    </Shown>
  );
}

function Quantities({ of }: { of: Reevaluation['drift']['quantities'] }) {
  return (
    <section class="card scroll">
      <h2>What moved</h2>
      <Table heads={['quantity', ...numberHeads('moved', 'median change', 'largest change')]}>
        {of.map(({ quantity, moved, compared, medianPct, largest }) => (
          <tr key={quantity}>
            <th scope="row">
              {label(quantity).name} <span class="unit">{label(quantity).unit}</span>
            </th>
            <td class="number">
              {moved} of {compared}
            </td>
            <td class="number">{medianPct === null ? '–' : `${number(medianPct, 3)} %`}</td>
            <td class="number">
              {largest === null ? (
                '–'
              ) : (
                <a href={`#/evaluations/${largest.again}`}>
                  {number(largest.changePct, 3)} %: {number(largest.left)} → {number(largest.right)}
                </a>
              )}
            </td>
          </tr>
        ))}
      </Table>
    </section>
  );
}

function Told({ title, items }: { title: string; items: readonly { evaluationId: string; again: string; words: string }[] }) {
  if (items.length === 0) return null;
  return (
    <section class="card">
      <h2>{title}</h2>
      <ul>
        {items.map(({ evaluationId, again, words }) => (
          <li key={again}>
            {words}: <a href={`#/evaluations/${evaluationId}`}>before</a>, <a href={`#/evaluations/${again}`}>now</a>
          </li>
        ))}
      </ul>
    </section>
  );
}
