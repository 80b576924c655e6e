import { useEffect, useState } from 'preact/hooks';
import { QUANTITIES, type Quantity } from '../../../openapi/quantities.ts';
import { type Answer, ask, type Refused } from '../client.ts';
import { isLive, useResource } from '../use-resource.ts';
import { axisWords, label, number } from '../words.ts';
import { Choice } from './choices.tsx';
import { Problem, State } from './shown.tsx';
import { numberHeads, Table } from './table.tsx';

type Surface = Answer<'/v1/surfaces/{id}'>;
type Of = { batchId: string } | { searchId: string };
type Setting = { path: string; value: number | string | Record<string, unknown> };
interface Prediction {
  quantities: Partial<Record<Quantity, { value: number; low: number; high: number }>>;
  extrapolates: boolean;
}

/** Fewer say nothing that could be relied on. */
const FEWEST = 10;
const FIRST: readonly Quantity[] = ['massG', 'totalPerPart'];
const STEPS = 200;

/** Surfaces fitted to what is finished, which answer what another set of parameters would come to. */
export function WhatIf({ of, done }: { of: Of; done: number }) {
  const [quantities, setQuantities] = useState<readonly Quantity[]>(FIRST);
  const [id, setId] = useState<string | null>(null);
  const [error, setError] = useState<Refused | null>(null);
  const surface = useResource<Surface>(id && `/v1/surfaces/${id}`, {
    everyMs: 500,
    isLive,
  });
  const unused = QUANTITIES.filter((each) => !quantities.includes(each)).map((value) => ({ value, text: axisWords(value) }));
  const fit = () =>
    ask<Surface>('/v1/surfaces', { method: 'POST', body: { ...of, quantities } }).then(({ body }) => {
      setError(null);
      setId(body!.id);
    }, setError);
  return (
    <section class="card wide">
      <h2>What if</h2>
      {done < FEWEST ? (
        <p class="quiet">With {FEWEST} finished evaluations or more, surfaces fitted to them tell what others would come to.</p>
      ) : (
        <div class="row">
          {quantities.map((each) => (
            <button key={each} type="button" class="small" onClick={() => setQuantities(quantities.filter((other) => other !== each))}>
              {label(each).name} ×
            </button>
          ))}
          <Choice
            name="also"
            value=""
            of={[{ value: '', text: 'another quantity' }, ...unused]}
            onChange={(value) => value && setQuantities([...quantities, value as Quantity])}
          />
          <button type="button" disabled={quantities.length === 0} onClick={fit}>
            Fit surfaces to {done} evaluations
          </button>
        </div>
      )}
      {error && <Problem error={error} />}
      {surface.error && <Problem error={surface.error} />}
      {surface.data && <Fitted of={surface.data} />}
    </section>
  );
}

function Fitted({ of: { id, status, result, factors, error } }: { of: Surface }) {
  if (error) return <p class="fault">{error.message}</p>;
  if (!result) return <State is={status} />;
  return (
    <div class="stack">
      <div class="scroll">
        <Table heads={['quantity', ...numberHeads('off by, as a rule', 'of the spread foretold', 'within its interval')]}>
          {result.quantities.map(({ quantity, rmse, explained, covered }) => (
            <tr key={quantity}>
              <th scope="row">{label(quantity).name}</th>
              <td class="number">
                {number(rmse, 2)} <span class="unit">{label(quantity).unit}</span>
              </td>
              <td class="number">{number(100 * Math.max(0, explained), 3)} %</td>
              <td class="number">{number(100 * covered.share, 3)} % of points not seen; 95 % is claimed</td>
            </tr>
          ))}
        </Table>
      </div>
      <Asked id={id} factors={factors} />
    </div>
  );
}

/** The middle of what is known, or the first choice. */
const first = ({ path, choices, min, max }: Surface['factors'][number]): Setting => ({
  path,
  value: choices ? (choices[0] as Setting['value']) : Number((((min ?? 0) + (max ?? 0)) / 2).toPrecision(4)),
});

function Asked({ id, factors }: { id: string; factors: Surface['factors'] }) {
  const [settings, setSettings] = useState<Setting[]>(() => factors.map(first));
  const [prediction, setPrediction] = useState<Prediction | null>(null);
  const [error, setError] = useState<Refused | null>(null);
  useEffect(() => {
    const stopped = new AbortController();
    // while a slider moves, only where it rests is asked for
    const timer = setTimeout(() => {
      const asked = { method: 'POST', body: { points: [settings] }, signal: stopped.signal } as const;
      ask<{ items: Prediction[] }>(`/v1/surfaces/${id}/predictions`, asked).then(
        ({ body }) => {
          setError(null);
          setPrediction(body!.items[0]);
        },
        (fault) => stopped.signal.aborted || setError(fault),
      );
    }, 120);
    return () => {
      stopped.abort();
      clearTimeout(timer);
    };
  }, [id, settings]);
  const set = (k: number, value: Setting['value']) => setSettings(settings.map((each, i) => (i === k ? { ...each, value } : each)));
  return (
    <div class="grid">
      <form onSubmit={(event) => event.preventDefault()} aria-label="Parameters to ask about">
        {factors.map((factor, k) => (
          <Factor key={factor.path} of={factor} value={settings[k].value} onChange={(value) => set(k, value)} />
        ))}
      </form>
      <div aria-live="polite">
        {error && <Problem error={error} />}
        {prediction && <Foretold of={prediction} />}
      </div>
    </div>
  );
}

function Factor({
  of,
  value,
  onChange,
}: {
  of: Surface['factors'][number];
  value: Setting['value'];
  onChange: (value: Setting['value']) => void;
}) {
  const { path, choices, min, max } = of;
  if (choices) {
    const words = (each: unknown) => (typeof each === 'object' ? JSON.stringify(each) : String(each));
    const named = choices.map((each, k) => ({ value: String(k), text: words(each) }));
    const at = choices.findIndex((each) => words(each) === words(value));
    return <Choice name={path} value={String(at)} of={named} onChange={(k) => onChange(choices[Number(k)] as Setting['value'])} />;
  }
  const [low, high] = [min ?? 0, max ?? 0];
  // a little beyond, where the answer says that nothing is known
  const beyond = (high - low) / 4;
  const read = (text: string) => Number.isFinite(Number(text)) && text !== '' && onChange(Number(text));
  return (
    <label>
      <span>
        {path} <span class="unit">{label(path).unit}</span>{' '}
        <span class="quiet">
          known from {number(low)} to {number(high)}
        </span>
      </span>
      <input
        type="range"
        min={low - beyond}
        max={high + beyond}
        step={(high - low) / STEPS || 1}
        value={Number(value)}
        aria-valuetext={`${number(Number(value))} ${label(path).unit}`}
        onInput={(event) => onChange(Number(Number(event.currentTarget.value).toPrecision(4)))}
      />
      <input
        inputMode="decimal"
        aria-label={`${path}, typed`}
        value={String(value)}
        onChange={(event) => read(event.currentTarget.value.replace(',', '.'))}
      />
    </label>
  );
}

function Foretold({ of: { quantities, extrapolates } }: { of: Prediction }) {
  return (
    <>
      {extrapolates && <p class="state state-warn">! Outside what is known: the intervals claim nothing here.</p>}
      <dl>
        {Object.entries(quantities).map(([quantity, { value, low, high }]) => (
          <>
            <dt>{label(quantity).name}</dt>
            <dd>
              <strong>{number(value)}</strong> <span class="unit">{label(quantity).unit}</span>{' '}
              <span class="quiet">
                95 of 100 lie from {number(low)} to {number(high)}
              </span>
            </dd>
          </>
        ))}
      </dl>
    </>
  );
}
