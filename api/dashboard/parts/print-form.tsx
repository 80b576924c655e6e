import { useState } from 'preact/hooks';
import { ask, type Refused } from '../client.ts';
import { Keys, VersionChoice } from './choices.tsx';
import { Problem } from './shown.tsx';

/** Copies of a version out of one build. */
export function PrintForm({ onDone }: { onDone: () => void }) {
  const [of, setOf] = useState({ design: '', version: '' });
  const [material, setMaterial] = useState('tpu-soft');
  const [buildVolume, setBuildVolume] = useState('medium-polymer');
  const [error, setError] = useState<Refused | null>(null);
  const [kept, setKept] = useState(0);
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const given = new FormData(form);
    const text = (name: string) => String(given.get(name)).trim();
    const serials = text('serials')
      .split(/[\s,]+/)
      .filter(Boolean);
    const share = text('virgin');
    const body = {
      ...{ versionId: of.version, material, buildVolume, build: text('build'), printedOn: text('printedOn') },
      lot: { name: text('lot'), virginSharePct: share === '' ? null : Number(share) },
      copies: serials.map((serial) => ({ serial })),
    };
    ask('/v1/prints', { method: 'POST', body }).then(() => {
      setError(null);
      setKept(serials.length);
      form.reset();
      onDone();
    }, setError);
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Enter prints</h2>
      <VersionChoice {...of} onChange={setOf} />
      <label>
        serials, with spaces between
        <input name="serials" required />
      </label>
      <fieldset>
        <legend>Build</legend>
        <label>
          name of the build
          <input name="build" required maxLength={100} />
        </label>
        <label>
          printed on
          <input name="printedOn" type="date" required />
        </label>
        <label>
          powder lot
          <input name="lot" required maxLength={100} />
        </label>
        <label>
          virgin powder, %
          <input name="virgin" inputMode="decimal" />
        </label>
        <Keys name="material" from="/v1/materials" value={material} onChange={setMaterial} />
        <Keys name="build volume" from="/v1/build-volumes" value={buildVolume} onChange={setBuildVolume} />
      </fieldset>
      {error && <Problem error={error} />}
      <div class="row">
        <button type="submit" disabled={of.version === ''}>
          Keep
        </button>
        <span role="status">{kept > 0 && !error && `${kept} kept`}</span>
      </div>
    </form>
  );
}
