import { useEffect, useState } from 'preact/hooks';
import { QUANTITIES } from '../../../openapi/quantities.ts';
import { ask, type Refused } from '../client.ts';
import { type Contract, useRules } from '../contract.ts';
import { go } from '../route.ts';
import { asFree, numbersIn, type Typed, type Varied, variedAt } from '../varied.ts';
import { label } from '../words.ts';
import { Choice, useVersion, VersionChoice } from './choices.tsx';
import { ConditionFields, type Conditions, USUAL } from './conditions.tsx';
import { Elsewhere, NumberField, TextField } from './fields.tsx';
import { Problem } from './shown.tsx';
import { besideRows, VariedRows } from './varied-rows.tsx';

const named = QUANTITIES.map((value) => ({ value, text: [label(value).name, label(value).unit].filter(Boolean).join(', ') }));
const RANKS = [
  { value: 'least-first', text: 'the least' },
  { value: 'most-first', text: 'the most' },
];
const OWN = ['/budget/evaluations', '/constraints/limits/0/max'];

/** From a version to parameters that meet a reference: what may change, within which bounds, at what price. */
export function SearchForm({ query }: { query: URLSearchParams }) {
  const [name, setName] = useState('');
  const [of, setOf] = useState({ design: query.get('design') ?? '', version: query.get('version') ?? '' });
  const [conditions, setConditions] = useState<Conditions>(USUAL);
  const [rows, setRows] = useState<Varied[]>([]);
  const [objective, setObjective] = useState<string>('totalPerPart');
  const [rank, setRank] = useState('least-first');
  const [settles, setSettles] = useState(false);
  const [evaluations, setEvaluations] = useState<Typed>(40);
  const [printable, setPrintable] = useState(true);
  const [limit, setLimit] = useState<{ quantity: string; max: Typed }>({ quantity: 'totalPerPart', max: undefined });
  const [refused, setRefused] = useState<Refused | null>(null);
  const set = useVersion(of)?.parameterSet;
  useEffect(() => {
    if (set) setRows([...numbersIn(set).keys()].slice(0, 2).map((path) => variedAt(set, path)));
  }, [set]);
  const { material, buildVolume, reference } = conditions;
  const body = {
    ...{ name, versionId: of.version, material, buildVolume, reference, free: rows.map(asFree), objective, rank },
    until: settles ? 'objective-settled' : 'targets-met',
    constraints: { printable, limits: limit.max === undefined ? [] : [limit] },
    budget: { evaluations },
  };
  const rules = ({ searchRequest, pathRefusal, validate }: Contract) => {
    if (!set) return [];
    const found = validate(searchRequest, body);
    return [
      ...(found.ok ? [] : found.errors),
      ...body.free.flatMap(({ path, choices }, k) => {
        const detail = pathRefusal(path, set, { between: choices === undefined });
        return detail === null ? [] : [{ pointer: `/free/${k}/path`, value: path, detail }];
      }),
    ];
  };
  const errors = useRules({ body, set }, rules);
  const faultAt = (at: string) => errors.find(({ pointer }) => pointer === at)?.detail;
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    ask<{ id: string }>('/v1/searches', { method: 'POST', body }).then(({ body: made }) => go(`/searches/${made!.id}`), setRefused);
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Search for parameters</h2>
      <TextField name="name" value={name} onChange={setName} />
      <fieldset>
        <legend>From</legend>
        <VersionChoice {...of} onChange={setOf} />
      </fieldset>
      <ConditionFields of={conditions} onChange={setConditions} wanted={['material', 'buildVolume', 'reference']} />
      {set && (
        <VariedRows
          {...{ set, rows, errors, at: '/free', onChange: setRows, stepName: 'in whole steps of' }}
          names={{ low: 'min', high: 'max', step: 'step' }}
        />
      )}
      <fieldset>
        <legend>What counts</legend>
        <Choice name="best with" value={rank} of={RANKS} onChange={setRank} />
        <Choice name="of" value={objective} of={named} onChange={setObjective} />
        <Choice name="and never more" value={limit.quantity} of={named} onChange={(quantity) => setLimit({ ...limit, quantity })} />
        <NumberField
          name="than"
          unit={label(limit.quantity).unit}
          value={limit.max}
          fault={faultAt(OWN[1])}
          onChange={(max) => setLimit({ ...limit, max })}
        />
        <NumberField name="evaluations at most" value={evaluations} fault={faultAt(OWN[0])} onChange={setEvaluations} />
        <label class="tick">
          <input type="checkbox" checked={printable} onChange={(event) => setPrintable(event.currentTarget.checked)} /> only what can be
          made
        </label>
        <label class="tick">
          <input type="checkbox" checked={settles} onChange={(event) => setSettles(event.currentTarget.checked)} /> goes on from the first
          solution to better ones
        </label>
      </fieldset>
      <Elsewhere errors={besideRows(errors, '/free').filter(({ pointer }) => !OWN.includes(pointer))} />
      {refused && <Problem error={refused} />}
      <div class="row">
        <button type="submit" disabled={!set || errors.length > 0}>
          Search
        </button>
        <span class="quiet" role="status">
          {!set ? 'Choose a version first.' : errors.length > 0 ? 'Something above is not allowed.' : ''}
        </span>
      </div>
    </form>
  );
}
