import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { go } from '../route.ts';
import { ago } from '../words.ts';
import { Keys, VersionChoice } from './choices.tsx';
import { Newest } from './newest.tsx';
import { Problem, State } from './shown.tsx';

/** What was decided of versions on what was measured, and a form that asks for a decision. */
export function Acceptances() {
  return (
    <div class="grid">
      <AcceptanceForm />
      <section class="card">
        <h2>Decided, newest first</h2>
        <Newest<Answer<'/v1/acceptances'>['items'][number]> of="/v1/acceptances" empty="Nothing yet.">
          {(items) => (
            <ul class="plain">
              {items.map(({ id, version, verdict, reference, decidedBy, createdAt }) => (
                <li key={id}>
                  <State is={verdict} />{' '}
                  <a href={`#/acceptances/${id}`}>
                    version {version} against {reference}
                  </a>{' '}
                  <span class="quiet">
                    {decidedBy.name}, {ago(createdAt)}
                  </span>
                </li>
              ))}
            </ul>
          )}
        </Newest>
      </section>
    </div>
  );
}

function AcceptanceForm() {
  const [of, setOf] = useState({ design: '', version: '' });
  const [reference, setReference] = useState('handball-size-1');
  const [error, setError] = useState<Refused | null>(null);
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const given = new FormData(event.target as HTMLFormElement);
    const percent = (name: string) => Number(String(given.get(name)).replace(',', '.'));
    const body = {
      ...{ versionId: of.version, reference, notes: String(given.get('notes')) },
      ...{ coveragePct: percent('coverage'), confidencePct: percent('confidence') },
    };
    ask<{ id: string }>('/v1/acceptances', { method: 'POST', body }).then(({ body: made }) => go(`/acceptances/${made!.id}`), setError);
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Does a version meet its reference?</h2>
      <fieldset>
        <legend>Version</legend>
        <VersionChoice {...of} onChange={setOf} />
        <Keys name="reference" from="/v1/references" value={reference} onChange={setReference} />
      </fieldset>
      <fieldset>
        <legend>How surely</legend>
        <label>
          share of parts within the bands, %
          <input name="coverage" inputMode="decimal" defaultValue="95" required />
        </label>
        <label>
          confidence, %
          <input name="confidence" inputMode="decimal" defaultValue="90" required />
        </label>
      </fieldset>
      <label>
        notes
        <input name="notes" />
      </label>
      {error && <Problem error={error} />}
      <div>
        <button type="submit" disabled={of.version === '' || reference === ''}>
          Decide on what is measured
        </button>
      </div>
      <p class="quiet">The decision is kept with its evidence and never changes.</p>
    </form>
  );
}
