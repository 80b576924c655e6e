import type { Answer } from '../client.ts';
import { ago, label, leaf, number } from '../words.ts';
import { State } from './shown.tsx';

type Version = Answer<'/v1/designs/{id}/lineage'>['items'][number];

const AT_A_GLANCE = ['massG', 'stiffnessNPerMm', 'reboundHeightMm', 'totalPerPart'] as const;
/** Changes named in a line; the rest is counted. */
const MOST_CHANGES = 3;

/** Versions below those they are based on: what was changed, what came of it, and how far each has got. */
export function Lineage({ designId, versions }: { designId: string; versions: readonly Version[] }) {
  const own = new Set(versions.map(({ id }) => id));
  const isRoot = ({ basedOn }: Version) => basedOn === null || !own.has(basedOn.versionId);
  return <Branch designId={designId} versions={versions.filter(isRoot)} all={versions} />;
}

function Branch({ designId, versions, all }: { designId: string; versions: readonly Version[]; all: readonly Version[] }) {
  if (versions.length === 0) return null;
  return (
    <ul class="tree">
      {[...versions]
        .sort((a, b) => a.number - b.number)
        .map((version) => (
          <li key={version.id}>
            <Line designId={designId} version={version} />
            <Branch designId={designId} versions={all.filter(({ basedOn }) => basedOn?.versionId === version.id)} all={all} />
          </li>
        ))}
    </ul>
  );
}

function Line({ designId, version }: { designId: string; version: Version }) {
  const { number: nr, note, tags, createdAt, basedOn, changed, evaluation, prints, measurements, decision } = version;
  const elsewhere = basedOn !== null && basedOn.designId !== designId;
  const shown = AT_A_GLANCE.filter((each) => evaluation?.quantities[each] != null);
  return (
    <>
      <a href={`#/new?design=${designId}&based-on=${nr}`} title="Begin a version based on this one">
        version {nr}
      </a>{' '}
      {evaluation && (
        <a href={`#/evaluations/${evaluation.evaluationId}`}>
          <State is={evaluation.verdict} />
        </a>
      )}{' '}
      {tags.map((tag) => (
        <span key={tag} class="tag">
          {tag}
        </span>
      ))}
      {prints > 0 && <span class="tag">{prints} printed</span>}
      {measurements > 0 && <span class="tag">{measurements} measured</span>}
      {decision && (
        <a href={`#/acceptances/${decision.acceptanceId}`}>
          <State is={decision.verdict} />
        </a>
      )}{' '}
      {note} <span class="quiet">{ago(createdAt)}</span>
      {elsewhere && (
        <div class="quiet">
          from version {basedOn.number} of <a href={`#/designs/${basedOn.designId}`}>{basedOn.designName}</a>
        </div>
      )}
      {changed && changed.length > 0 && <div class="quiet">changed: {changes(changed)}</div>}
      {evaluation && shown.length > 0 && (
        <div>
          {shown.map((each, k) => (
            <span key={each}>
              {k > 0 && ' · '}
              {label(each).name} {number(evaluation.quantities[each])} <span class="unit">{label(each).unit}</span>
            </span>
          ))}
        </div>
      )}
    </>
  );
}

function changes(changed: NonNullable<Version['changed']>): string {
  const told = changed.slice(0, MOST_CHANGES).map(({ path, left, right }) => `${path} ${leaf(left)} → ${leaf(right)}`);
  return [...told, ...(changed.length > MOST_CHANGES ? [`and ${changed.length - MOST_CHANGES} more`] : [])].join(', ');
}
