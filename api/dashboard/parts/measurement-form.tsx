import { useState } from 'preact/hooks';
import { ask, type Refused } from '../client.ts';
import { Choice } from './choices.tsx';
import { Problem } from './shown.tsx';

/** Tests whose readings are plain numbers, and the units that they may be read in. The others come as CSV or by the API. */
const KINDS: Readonly<Record<string, readonly string[]>> = {
  mass: ['g', 'kg'],
  circumference: ['mm', 'cm'],
  'contact-time': ['ms', 's'],
  'peak-force': ['N', 'kN'],
  balance: ['mm'],
  rebound: ['mm', 'cm', 'm'],
};

/** Readings of one part. */
export function MeasurementForm({ serials, onDone }: { serials: readonly string[]; onDone: () => void }) {
  const [kind, setKind] = useState('mass');
  const [unit, setUnit] = useState('g');
  const [error, setError] = useState<Refused | null>(null);
  const [kept, setKept] = useState(false);
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const given = new FormData(form);
    const text = (name: string) => String(given.get(name) ?? '').trim();
    const numbers = text('values')
      .split(/[\s;]+/)
      .filter(Boolean)
      .map(read);
    const readings = kind === 'rebound' ? { dropHeight: read(text('dropHeight')), drops: [{ bounces: numbers }] } : { values: numbers };
    const body = {
      ...{ kind, unit, serial: text('serial'), measuredAt: new Date(text('measuredAt')).toISOString() },
      ...readings,
      ...{ instrument: text('instrument'), operator: text('operator') || null },
    };
    ask('/v1/measurements', { method: 'POST', body }).then(
      () => {
        setError(null);
        setKept(true);
        onDone();
      },
      (refused: Refused) => {
        setKept(false);
        setError(refused);
      },
    );
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Enter a measurement</h2>
      <label>
        serial of the part
        <input name="serial" list="serials" required />
        <datalist id="serials">
          {serials.map((each) => (
            <option key={each} value={each} />
          ))}
        </datalist>
      </label>
      <fieldset>
        <legend>Test</legend>
        <Choice
          name="what"
          value={kind}
          of={Object.keys(KINDS)}
          onChange={(value) => {
            setKind(value);
            setUnit(KINDS[value][0]);
          }}
        />
        <Choice name="unit" value={unit} of={KINDS[kind]} onChange={setUnit} />
        {kind === 'rebound' && (
          <label>
            dropped from, {unit}
            <input name="dropHeight" inputMode="decimal" required />
          </label>
        )}
      </fieldset>
      <label>
        {kind === 'rebound' ? `height of each bounce, ${unit}, with spaces between` : `readings, ${unit}, with spaces between`}
        <input name="values" required />
      </label>
      <label>
        measured at
        <input name="measuredAt" type="datetime-local" required />
      </label>
      <fieldset>
        <legend>With, by</legend>
        <label>
          instrument
          <input name="instrument" maxLength={500} />
        </label>
        <label>
          initials
          <input name="operator" maxLength={4} />
        </label>
      </fieldset>
      {error && <Problem error={error} />}
      <div class="row">
        <button type="submit">Keep</button>
        <span role="status">{kept && 'kept'}</span>
      </div>
    </form>
  );
}

/** A number with a point or a comma; anything else stays text, for the service to refuse. */
const read = (text: string): number | string => (Number.isNaN(Number(text.replace(',', '.'))) ? text : Number(text.replace(',', '.')));
