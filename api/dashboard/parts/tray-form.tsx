import { useState } from 'preact/hooks';
import { ask, type Refused } from '../client.ts';
import { go } from '../route.ts';
import { Keys, VersionChoice } from './choices.tsx';
import { Problem } from './shown.tsx';

interface Row {
  design: string;
  version: string;
  count: number;
}
const EMPTY: Row = { design: '', version: '', count: 1 };

/** Which versions, and how many of each, are to be built together. */
export function TrayForm() {
  const [rows, setRows] = useState<Row[]>([EMPTY]);
  const [material, setMaterial] = useState('tpu-soft');
  const [buildVolume, setBuildVolume] = useState('medium-polymer');
  const [error, setError] = useState<Refused | null>(null);
  const change = (k: number, part: Partial<Row>) => setRows((before) => before.map((row, i) => (i === k ? { ...row, ...part } : row)));
  const chosen = rows.filter(({ version }) => version !== '');
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const parts = chosen.map(({ version, count }) => ({ versionId: version, count }));
    ask<{ id: string }>('/v1/trays', { method: 'POST', body: { parts, material, buildVolume } }).then(
      ({ body }) => go(`/trays/${body!.id}`),
      setError,
    );
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Plan one</h2>
      {rows.map((row, k) => (
        <fieldset key={k}>
          <legend>Part {k + 1}</legend>
          <VersionChoice design={row.design} version={row.version} onChange={(of) => change(k, of)} />
          <label>
            copies
            <input
              type="number"
              min={1}
              max={240}
              value={row.count}
              onInput={(event) => change(k, { count: Number(event.currentTarget.value) })}
            />
          </label>
        </fieldset>
      ))}
      <div>
        <button type="button" onClick={() => setRows([...rows, EMPTY])}>
          One version more
        </button>
      </div>
      <fieldset>
        <legend>Of what, in what</legend>
        <Keys name="material" from="/v1/materials" value={material} onChange={setMaterial} />
        <Keys name="build volume" from="/v1/build-volumes" value={buildVolume} onChange={setBuildVolume} />
      </fieldset>
      {error && <Problem error={error} />}
      <div>
        <button type="submit" disabled={chosen.length === 0}>
          Plan it
        </button>
      </div>
    </form>
  );
}
