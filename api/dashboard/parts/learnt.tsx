import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { inWords, label, number } from '../words.ts';
import { TextField } from './fields.tsx';
import { Plotted } from './plotted.tsx';
import { Problem } from './shown.tsx';
import { numberHeads, Table } from './table.tsx';

type Calibration = Answer<'/v1/calibrations/{id}'>;
export type Learnt = NonNullable<Calibration['result']>;

const WORDS = { told: '✓ told', partly: '! in part', 'not-told': '? not told' } as const;
const named = (quantity: string) => label(quantity).name;

/** The unknowns: what was believed of them, what the measurements make of that, and what they cannot tell. */
export function Estimates({ of: { estimates, identifiability, widening } }: { of: Learnt }) {
  return (
    <section class="card wide">
      <h2>What printing does</h2>
      <Plotted
        of={estimates}
        draw={(plots) =>
          plots.spreadPlot(estimates.map(({ unknown, ...each }) => ({ ...each, name: named(unknown), factor: unknown.endsWith('Factor') })))
        }
      />
      <div class="scroll">
        <Table heads={['unknown', 'estimate', '95 % of it', 'believed before', 'by the data']}>
          {estimates.map(({ unknown, value, low, high, believed, told }) => (
            <tr key={unknown}>
              <th scope="row">
                {named(unknown)} <span class="unit">{label(unknown).unit}</span>
              </th>
              <td>{number(value, 3)}</td>
              <td>
                {number(low, 3)} to {number(high, 3)}
              </td>
              <td>{number(believed.value, 3)}</td>
              <td class={`state state-${told === 'told' ? 'pass' : told === 'partly' ? 'warn' : 'not-checked'}`}>{WORDS[told]}</td>
            </tr>
          ))}
        </Table>
      </div>
      <h3>What the data cannot tell</h3>
      <ul>
        {identifiability.sentences.map((each) => (
          <li key={each}>{inWords(each)}</li>
        ))}
      </ul>
      {widening > 1 && <p class="quiet">Spreads are widened by {number(widening, 3)}, as measurements scatter more than was said.</p>}
    </section>
  );
}

/** How far measurements lie from what was predicted, before and after. */
export function Residuals({ of: { residuals, biases } }: { of: Learnt }) {
  const { items, sentences } = residuals;
  const off = items.flatMap(({ quantity, measured, predicted, asDesigned, weight }) => [
    { quantity: named(quantity), from: 'as designed' as const, pct: 100 * (measured / asDesigned - 1), outlier: false },
    { quantity: named(quantity), from: 'calibrated' as const, pct: 100 * (measured / predicted - 1), outlier: weight < 1 },
  ]);
  return (
    <section class="card">
      <h2>Measured against predicted</h2>
      <Plotted of={items} draw={(plots) => plots.residualPlot(off)} />
      <ul>
        {sentences.map((each) => (
          <li key={each}>{inWords(each)}</li>
        ))}
        {biases.map(({ instrument, quantity, valuePct, deviationPct }) => (
          <li key={instrument + quantity}>
            {instrument || 'instrument without a name'}, {named(quantity)}: reads {number(Math.abs(valuePct), 2)} %{' '}
            {valuePct < 0 ? 'too little' : 'too much'}, give or take {number(deviationPct, 2)} %
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The version most worth printing, why, and what the others come to. */
export function NextPrint({ of: nextPrint, numbered }: { of: Learnt['nextPrint']; numbered: (versionId: string) => string }) {
  if (!nextPrint) return null;
  const { advised, reasons, candidates } = nextPrint;
  const best = candidates.find(({ versionId }) => versionId === advised);
  return (
    <section class="card wide">
      <h2>{best ? `Print version ${best.version} next` : 'No version is advised'}</h2>
      <ul>
        {reasons.map((each) => (
          <li key={each}>{inWords(numbered(each))}</li>
        ))}
      </ul>
      <div class="scroll">
        <Table heads={['version', ...numberHeads('meets all, chance', 'off the middle, half bands', 'would tell, bits'), 'predicted']}>
          {candidates.map(({ versionId, version, meetsAll, distance, bits, aims }) => (
            <tr key={versionId}>
              <th scope="row">
                {version} {versionId === advised && <span class="state state-pass">✓ advised</span>}
              </th>
              <td class="number">{number(100 * meetsAll, 2)} %</td>
              <td class="number">{number(distance, 3)}</td>
              <td class="number">{number(bits, 2)}</td>
              <td>
                {aims
                  .map(({ quantity, predicted, chance }) => {
                    const { name, unit } = label(quantity);
                    return `${name} ${number(predicted)} ${unit} (${number(100 * chance, 2)} %)`.replace('  ', ' ');
                  })
                  .join('; ')}
              </td>
            </tr>
          ))}
        </Table>
      </div>
    </section>
  );
}

/** What each version is predicted to come to, as it prints. */
export function Predictions({ of: { predictions } }: { of: Learnt }) {
  return (
    <section class="card scroll">
      <h2>Versions as they print</h2>
      <Table heads={['version', 'quantity', 'predicted', '95 %']}>
        {predictions.map(({ versionId, version, quantity, value, low, high }) => (
          <tr key={versionId + quantity}>
            <th scope="row">{version}</th>
            <td>
              {named(quantity)} <span class="unit">{label(quantity).unit}</span>
            </td>
            <td>{number(value)}</td>
            <td>
              {number(low)} to {number(high)}
            </td>
          </tr>
        ))}
      </Table>
    </section>
  );
}

/** Keeps the record with what was learnt, so that evaluations can take it. */
export function Adopt({ id, material }: { id: string; material: string }) {
  const [key, setKey] = useState(`${material}-as-printed`.slice(0, 60));
  const [kept, setKept] = useState<{ key: string; revision: number } | null>(null);
  const [error, setError] = useState<Refused | null>(null);
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    ask<{ key: string; revision: number }>(`/v1/calibrations/${id}/material`, { method: 'POST', body: { key } }).then(({ body }) => {
      setError(null);
      setKept(body);
    }, setError);
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Evaluate with it</h2>
      <TextField name="key of the material" value={key} onChange={setKey} />
      {error && <Problem error={error} />}
      <div class="row">
        <button type="submit">Keep the material</button>
        <span role="status">{kept && `${kept.key}, revision ${kept.revision}, can be chosen for evaluations.`}</span>
      </div>
    </form>
  );
}
