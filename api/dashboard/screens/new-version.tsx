import { useState } from 'preact/hooks';
import type { ParameterSetInput } from '../../../openapi/index.ts';
import { type Answer, ask, Refused } from '../client.ts';
import { Choice, useDesigns } from '../parts/choices.tsx';
import { ConditionFields, type Conditions, conditionsOf, USUAL } from '../parts/conditions.tsx';
import { Elsewhere } from '../parts/fields.tsx';
import { GraphView } from '../parts/lattice-view.tsx';
import { SetFields } from '../parts/set-fields.tsx';
import { Problem, Shown } from '../parts/shown.tsx';
import { Value } from '../parts/value.tsx';
import { go } from '../route.ts';
import { FIELDS, START } from '../typed-set.ts';
import { useChecked } from '../use-checked.ts';
import { useResource } from '../use-resource.ts';

/** What is asked for beside the parameter set. */
interface Request extends Conditions {
  notes: string;
  /** Name of a new design. */
  design: string;
}

type Version = Answer<'/v1/designs/{id}/versions/{number}'>;
type Evaluation = Answer<'/v1/evaluations/{id}'>;

/** A set to be typed. What it begins with (an evaluation that is kept, a version that it is based on) is known first, so that nothing typed is lost. */
export function NewVersion({ query }: { query: URLSearchParams }) {
  const [design, number, evaluation] = ['design', 'based-on', 'evaluation'].map((name) => query.get(name));
  const basis = useResource<Version>(design && number ? `/v1/designs/${design}/versions/${number}` : null);
  const kept = useResource<Evaluation>(evaluation && `/v1/evaluations/${evaluation}`);
  const form = (version: Version | null, found: Evaluation | null) => (
    <SetForm key={`${version?.id} ${found?.id}`} design={design} basis={version} kept={found} />
  );
  const after = (version: Version | null) =>
    evaluation ? <Shown of={kept}>{(found) => form(version, found)}</Shown> : form(version, null);
  return design && number ? <Shown of={basis}>{after}</Shown> : after(null);
}

/** As an evaluation was asked for. For a record that was posted whole, without a key, the usual one stands, and the form says so. */
const conditionsOfKept = ({ id, input: { material, buildVolume, reference, tests } }: Evaluation): Omit<Request, 'design'> => ({
  material: material.key ?? USUAL.material,
  buildVolume: buildVolume.key ?? USUAL.buildVolume,
  reference: reference?.key ?? '',
  depth: tests.depth,
  notes: `Keeps evaluation ${id}`,
});

const withoutKey = ({ input: { material, buildVolume, reference } }: Evaluation): string[] =>
  Object.entries({ material, 'build volume': buildVolume, reference }).flatMap(([name, record]) => (record && !record.key ? [name] : []));

/** A form for a parameter set: checked as it is typed by the rules of the service, drawn and weighed before it is queued. */
function SetForm({ design: given, basis, kept }: { design: string | null; basis: Version | null; kept: Evaluation | null }) {
  const [set, setSet] = useState<ParameterSetInput>(((kept?.input ?? basis)?.parameterSet as ParameterSetInput) ?? START);
  const [conditions, setConditions] = useState<Request>({
    ...(kept ? conditionsOfKept(kept) : { ...USUAL, notes: '' }),
    design: 'Size 1 training ball',
  });
  const [design, setDesign] = useState(given);
  const designs = useDesigns();
  const [refused, setRefused] = useState<Refused | null>(null);
  const [busy, setBusy] = useState(false);
  const { errors, preview } = useChecked(set, conditions.material);

  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    setBusy(true);
    try {
      go(`/evaluations/${await post(set, conditions, { design, basis: basis?.id })}`);
    } catch (error) {
      setRefused(error instanceof Refused ? error : new Refused(String(error), { code: 'unknown', status: 0 }));
      setBusy(false);
    }
  };
  const elsewhere = errors.filter(({ pointer }) => !FIELDS.test(pointer));
  return (
    <>
      <h1 tabIndex={-1}>{titleOf({ design, basis, kept })}</h1>
      <div class="grid">
        <form onSubmit={submit}>
          {!given && designs.length > 0 && (
            <Choice
              name="design"
              value={design ?? ''}
              of={[{ value: '', text: 'a new one' }, ...designs.map(({ id, name }) => ({ value: id, text: name }))]}
              onChange={(chosen) => setDesign(chosen || null)}
            />
          )}
          {!design && (
            <label>
              name of the design
              <input
                value={conditions.design}
                required
                maxLength={200}
                onInput={(event) => setConditions({ ...conditions, design: event.currentTarget.value })}
              />
            </label>
          )}
          <SetFields set={set} errors={errors} onChange={setSet} />
          <ConditionFields of={conditions} onChange={setConditions} />
          {kept && withoutKey(kept).length > 0 && (
            <p class="state state-warn">! The evaluation’s {withoutKey(kept).join(' and ')} had no key: choose what stands for it.</p>
          )}
          <label>
            notes
            <textarea
              rows={2}
              maxLength={10_000}
              value={conditions.notes}
              onInput={(event) => setConditions({ ...conditions, notes: event.currentTarget.value })}
            />
          </label>
          <Elsewhere errors={elsewhere} />
          {refused && <Problem error={refused} />}
          <div class="row">
            <button type="submit" disabled={busy || errors.length > 0}>
              {busy ? 'Sending …' : 'Evaluate'}
            </button>
            <span class="quiet" role="status">
              {errors.length > 0 ? 'Something above is not allowed.' : preview?.kind === 'fault' ? preview.fault.message : ''}
            </span>
          </div>
        </form>
        <section class="card">
          <h2>Before it is queued</h2>
          <GraphView graph={preview?.kind === 'preview' ? (preview.graph as never) : null} />
          {preview?.kind === 'preview' && (
            <dl>
              <dt>mass</dt>
              <dd>
                <Value of={preview.massG} unit="g" />
              </dd>
              <dt>struts</dt>
              <dd>{preview.graph.struts.length}</dd>
            </dl>
          )}
        </section>
      </div>
    </>
  );
}

function titleOf({ design, basis, kept }: { design: string | null; basis: Version | null; kept: Evaluation | null }): string {
  const what = kept ? 'An evaluation kept as a version' : 'A version';
  if (basis) return `${what} based on version ${basis.number}`;
  return kept ? what : design ? 'Another version' : 'A new design';
}

/** Makes the design where there is none, the version, and its evaluation; answers the id of that. */
async function post(
  parameterSet: ParameterSetInput,
  { notes, design: name, ...conditions }: Request,
  { design, basis }: { design: string | null; basis: string | undefined },
): Promise<string> {
  const designId = design ?? (await ask<{ id: string }>('/v1/designs', { method: 'POST', body: { name } })).body!.id;
  const body = { parameterSet, notes, ...(basis && { basedOn: basis }) };
  const version = await ask<{ id: string }>(`/v1/designs/${designId}/versions`, { method: 'POST', body });
  const request = { versionId: version.body!.id, ...conditionsOf(conditions) };
  return (await ask<{ id: string }>('/v1/evaluations', { method: 'POST', body: request })).body!.id;
}
