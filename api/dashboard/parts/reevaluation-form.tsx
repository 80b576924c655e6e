import { useState } from 'preact/hooks';
import { ask, type Refused } from '../client.ts';
import { go } from '../route.ts';
import { Choice, useDesigns } from './choices.tsx';
import { TextField } from './fields.tsx';
import { Problem } from './shown.tsx';

/** Which earlier evaluations: of a design, with a tag, of a version of the engine; all that is given must hold. */
export function ReevaluationForm() {
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
