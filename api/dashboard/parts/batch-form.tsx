import { useEffect, useState } from 'preact/hooks';
import { ask, type Refused } from '../client.ts';
import { type Contract, useRules } from '../contract.ts';
import { go } from '../route.ts';
import { asVariation, numbersIn, type Typed, type Varied, variedAt } from '../varied.ts';
import { Choice, useVersion, VersionChoice } from './choices.tsx';
import { ConditionFields, type Conditions, conditionsOf, USUAL } from './conditions.tsx';
import { Elsewhere, NumberField, TextField } from './fields.tsx';
import { Problem } from './shown.tsx';
import { besideRows, VariedRows } from './varied-rows.tsx';

const FILLED = [
  { value: 'grid', text: 'a full grid' },
  { value: 'sobol', text: 'evenly spread (Sobol)' },
  { value: 'latin-hypercube', text: 'a Latin hypercube' },
];
const GRID_STEPS = 4;

/** Many points around a version: what is varied, over what, and how the space is filled. */
export function BatchForm({ query }: { query: URLSearchParams }) {
  const [name, setName] = useState('');
  const [of, setOf] = useState({ design: query.get('design') ?? '', version: query.get('version') ?? '' });
  const [conditions, setConditions] = useState<Conditions>({ ...USUAL, depth: 'geometry' });
  const [kind, setKind] = useState('grid');
  const [points, setPoints] = useState<Typed>(64);
  const [rows, setRows] = useState<Varied[]>([]);
  const [refused, setRefused] = useState<Refused | null>(null);
  const set = useVersion(of)?.parameterSet;
  useEffect(() => {
    if (set) setRows([...numbersIn(set).keys()].slice(0, 2).map((path) => ({ ...variedAt(set, path), step: GRID_STEPS })));
  }, [set]);
  const body = {
    ...{ name, evaluation: { versionId: of.version, ...conditionsOf(conditions) }, vary: rows.map((row) => asVariation(row, kind)) },
    sampling: kind === 'grid' ? { kind } : { kind, points },
  };
  const rules = ({ batchRequest, pathRefusal, validate }: Contract) => {
    if (!set) return [];
    const found = validate(batchRequest, body);
    return [
      ...(found.ok ? [] : found.errors),
      ...body.vary.flatMap(({ path, choices }, k) => {
        const detail = pathRefusal(path, set, { between: choices === undefined });
        return detail === null ? [] : [{ pointer: `/vary/${k}/path`, value: path, detail }];
      }),
    ];
  };
  const errors = useRules({ body, set }, rules);
  const total = kind === 'grid' ? body.vary.reduce((product, each) => product * (each.steps ?? each.choices?.length ?? 1), 1) : points;
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    ask<{ id: string }>('/v1/batches', { method: 'POST', body }).then(({ body: made }) => go(`/batches/${made!.id}`), setRefused);
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Evaluate many</h2>
      <TextField name="name" value={name} onChange={setName} />
      <fieldset>
        <legend>Around</legend>
        <VersionChoice {...of} onChange={setOf} />
      </fieldset>
      <ConditionFields of={conditions} onChange={setConditions} />
      {set && (
        <>
          <fieldset>
            <legend>Points</legend>
            <Choice name="filled by" value={kind} of={FILLED} onChange={setKind} />
            {kind !== 'grid' && (
              <NumberField
                name="points"
                value={points}
                fault={errors.find(({ pointer }) => pointer === '/sampling/points')?.detail}
                onChange={setPoints}
              />
            )}
          </fieldset>
          <VariedRows
            {...{ set, rows, errors, at: '/vary', onChange: setRows, stepName: 'values' }}
            names={{ low: 'from', high: 'to', step: kind === 'grid' ? 'steps' : '' }}
          />
        </>
      )}
      <Elsewhere errors={besideRows(errors, '/vary').filter(({ pointer }) => pointer !== '/sampling/points')} />
      {refused && <Problem error={refused} />}
      <div class="row">
        <button type="submit" disabled={!set || errors.length > 0}>
          Post it
        </button>
        <span class="quiet" role="status">
          {!set ? 'Choose a version first.' : errors.length > 0 ? 'Something above is not allowed.' : `${total} points`}
        </span>
      </div>
    </form>
  );
}
