import { useEffect, useState } from 'preact/hooks';
import type { ParameterSetInput } from '../../../openapi/index.ts';
import type { Preview } from '../../../worker/engine/index.ts';
import { type Answer, ask, Refused } from '../client.ts';
import { contract, PAUSE_MS } from '../contract.ts';
import { Choice } from '../parts/choices.tsx';
import { ConditionFields, type Conditions, conditionsOf, USUAL } from '../parts/conditions.tsx';
import { Elsewhere, NumberField } from '../parts/fields.tsx';
import { GraphView } from '../parts/lattice-view.tsx';
import { Problem, Shown } from '../parts/shown.tsx';
import { Value } from '../parts/value.tsx';
import { go } from '../route.ts';
import { useResource } from '../use-resource.ts';

/** A ball that meets a size 1 handball's mass and size. */
const START: ParameterSetInput = {
  carrier: { shape: 'sphere', outsideDiameterMm: 162.3 },
  tiling: { kind: 'goldberg', m: 3, n: 3, relaxation: 'equal-edges', orientation: 'split-plane' },
  layers: [
    { depthMm: 0, strutDiameterMm: 4.7 },
    { depthMm: 14, strutDiameterMm: 4 },
  ],
  links: { pattern: 'posts', strutDiameterMm: 4 },
};

/** What is asked for beside the parameter set. */
interface Request extends Conditions {
  notes: string;
  /** Name of a new design. */
  design: string;
}

type Version = Answer<'/v1/designs/{id}/versions/{number}'>;

/** A set to be typed; one that is based on another begins when that is known, so that nothing typed is lost. */
export function NewVersion({ query }: { query: URLSearchParams }) {
  const [design, number] = [query.get('design'), query.get('based-on')];
  const basis = useResource<Version>(design && number ? `/v1/designs/${design}/versions/${number}` : null);
  if (!design || !number) return <SetForm key="new" design={design} basis={null} />;
  return <Shown of={basis}>{(found) => <SetForm key={found.id} design={design} basis={found} />}</Shown>;
}

/** A form for a parameter set: checked as it is typed by the rules of the service, drawn and weighed before it is queued. */
function SetForm({ design, basis }: { design: string | null; basis: Version | null }) {
  const [set, setSet] = useState<ParameterSetInput>((basis?.parameterSet as ParameterSetInput) ?? START);
  const [conditions, setConditions] = useState<Request>({ ...USUAL, notes: '', design: 'Size 1 training ball' });
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
  const field = (path: string, name: string, unit = 'mm') => (
    <NumberField
      name={name}
      unit={unit}
      value={at(set, path)}
      fault={errors.find(({ pointer }) => pointer === `/${path.replaceAll('.', '/')}`)?.detail}
      onChange={(value) => setSet((before) => withValue(before, path, value))}
    />
  );
  const elsewhere = errors.filter(({ pointer }) => !FIELDS.test(pointer));
  return (
    <>
      <h1 tabIndex={-1}>{basis ? `A version based on version ${basis.number}` : design ? 'Another version' : 'A new design'}</h1>
      <div class="grid">
        <form onSubmit={submit}>
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
          <fieldset>
            <legend>Size and cells</legend>
            {field('carrier.outsideDiameterMm', 'outside diameter')}
            {field('tiling.m', 'cells, m', '')}
            {field('tiling.n', 'cells, n', '')}
            <Choice
              name="cells evened by"
              value={set.tiling.relaxation ?? 'none'}
              of={['none', 'equal-edges', 'equal-areas']}
              onChange={(value) => setSet(withValue(set, 'tiling.relaxation', value))}
            />
          </fieldset>
          {set.layers.map((_, k) => (
            <fieldset key={k}>
              <legend>{k === 0 ? 'Outer layer' : `Layer ${k + 1}`}</legend>
              {field(`layers.${k}.strutDiameterMm`, 'strut diameter')}
              {k > 0 && field(`layers.${k}.depthMm`, 'depth')}
            </fieldset>
          ))}
          <div class="row">
            <button type="button" disabled={set.layers.length >= 4} onClick={() => setSet(deeper(set))}>
              One layer more
            </button>
            <button type="button" disabled={set.layers.length <= 1} onClick={() => setSet(shallower(set))}>
              One layer less
            </button>
          </div>
          {set.layers.length > 1 && (
            <fieldset>
              <legend>Links between layers</legend>
              <Choice
                name="pattern"
                value={set.links?.pattern ?? 'posts'}
                of={['posts', 'braced']}
                onChange={(value) => setSet(withValue(set, 'links.pattern', value))}
              />
              {field('links.strutDiameterMm', 'strut diameter')}
            </fieldset>
          )}
          <ConditionFields of={conditions} onChange={setConditions} />
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

const FIELDS = /^\/(?:carrier\/outsideDiameterMm|tiling\/[mn]|layers\/\d\/(?:strutDiameterMm|depthMm)|links\/strutDiameterMm)$/;

/** What the service's own rules say of a set, and, where they allow it, how it looks and what it weighs. */
function useChecked(set: ParameterSetInput, material: string) {
  const [checked, setChecked] = useState<{ errors: { pointer: string; detail: string }[]; preview: Preview | null }>({
    errors: [],
    preview: null,
  });
  const record = useResource<Answer<'/v1/materials/{key}'>>(`/v1/materials/${material}`);
  const densityGCm3 = record.data?.densityGCm3 ?? 1;
  useEffect(() => {
    let gone = false;
    const timer = setTimeout(async () => {
      const { parameterSet, settle, validate } = await contract();
      const found = validate(parameterSet, set);
      if (gone) return;
      if (!found.ok) return setChecked((before) => ({ errors: found.errors, preview: before.preview }));
      setChecked((before) => ({ errors: [], preview: before.preview }));
      const { previewOf } = await import('../../../worker/engine/index.ts');
      const preview = previewOf(settle(found.value), densityGCm3);
      if (!gone) setChecked({ errors: [], preview });
    }, PAUSE_MS);
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [set, densityGCm3]);
  return checked;
}

const at = (set: unknown, path: string): unknown =>
  path.split('.').reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], set);

function withValue<T>(set: T, path: string, value: unknown): T {
  const copy = structuredClone(set) as Record<string, unknown>;
  const keys = path.split('.');
  const last = keys.pop()!;
  const inside = keys.reduce((each, key) => (each[key] ??= {}) as Record<string, unknown>, copy);
  if (value === undefined) delete inside[last];
  else inside[last] = value;
  return copy as T;
}

/** A layer more or less, with links where there is something to link. */
function deeper(set: ParameterSetInput): ParameterSetInput {
  const last = set.layers.at(-1)!;
  const layers = [...set.layers, { ...last, depthMm: last.depthMm + 10 }];
  return {
    ...set,
    layers,
    links: set.links?.pattern === 'none' || !set.links ? { pattern: 'posts', strutDiameterMm: last.strutDiameterMm } : set.links,
  };
}
function shallower(set: ParameterSetInput): ParameterSetInput {
  const layers = set.layers.slice(0, -1);
  return { ...set, layers, links: layers.length === 1 ? { pattern: 'none' } : set.links };
}
