import { useEffect, useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { type Contract, useRules } from '../contract.ts';
import { go } from '../route.ts';
import { useResource } from '../use-resource.ts';
import { Choice, useDesigns, useVersions } from './choices.tsx';
import { ConditionFields, type Conditions, USUAL } from './conditions.tsx';
import { Elsewhere } from './fields.tsx';
import { Problem } from './shown.tsx';

const MOST_CANDIDATES = 8;

/** Which measurements to learn from, and what could be printed next. */
export function CalibrationForm() {
  const [conditions, setConditions] = useState<Conditions>(USUAL);
  const [finishing, setFinishing] = useState('');
  const [design, setDesign] = useState('');
  const [candidates, setCandidates] = useState<readonly string[]>([]);
  const [refused, setRefused] = useState<Refused | null>(null);
  const { material, buildVolume, reference } = conditions;
  const prints = useResource<Answer<'/v1/prints'>>(`/v1/prints?material=${material}&buildVolume=${buildVolume}&limit=200`);
  const targets = useResource<Answer<'/v1/references/{key}'>>(reference ? `/v1/references/${reference}` : null).data?.targets ?? [];
  const designs = useDesigns();
  const versions = useVersions(design);
  useEffect(() => setCandidates(versions.slice(0, MOST_CANDIDATES).map(({ id }) => id)), [versions]);
  const body = { material, buildVolume, ...(finishing && { finishing }), candidates, targets };
  const errors = useRules(body, ({ calibrationRequest, validate }: Contract) => {
    const found = validate(calibrationRequest, body);
    return found.ok ? [] : found.errors;
  });
  const finished = [...new Set((prints.data?.items ?? []).map((each) => each.finishing.map(({ kind }) => kind).join('+') || 'none'))];
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    ask<{ id: string }>('/v1/calibrations', { method: 'POST', body }).then(({ body: made }) => go(`/calibrations/${made!.id}`), setRefused);
  };
  return (
    <form class="card" onSubmit={submit}>
      <h2>Learn from prints</h2>
      <ConditionFields of={conditions} onChange={setConditions} wanted={['material', 'buildVolume', 'reference']} />
      <Choice name="prints finished by" value={finishing} of={[{ value: '', text: 'anything' }, ...finished]} onChange={setFinishing} />
      <fieldset>
        <legend>What could be printed next</legend>
        <Choice
          name="versions of"
          value={design}
          of={[{ value: '', text: 'no design' }, ...designs.map(({ id, name }) => ({ value: id, text: name }))]}
          onChange={setDesign}
        />
        {versions.map(({ id, number, notes }) => (
          <label class="tick" key={id} title={notes}>
            <input
              type="checkbox"
              checked={candidates.includes(id)}
              onChange={(event) =>
                setCandidates(event.currentTarget.checked ? [...candidates, id] : candidates.filter((each) => each !== id))
              }
            />{' '}
            version {number}
          </label>
        ))}
      </fieldset>
      <Elsewhere errors={errors} />
      {refused && <Problem error={refused} />}
      <div class="row">
        <button type="submit" disabled={errors.length > 0}>
          Calibrate
        </button>
        <span class="quiet" role="status">
          {prints.data && `${prints.data.items.length}${prints.data.nextCursor ? ' and more' : ''} prints of it`}
        </span>
      </div>
    </form>
  );
}
