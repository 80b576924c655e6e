import type { Answer } from '../client.ts';
import { Shown, State } from '../parts/shown.tsx';
import { Quantity } from '../parts/value.tsx';
import { useResource } from '../use-resource.ts';
import { ago, label } from '../words.ts';

type Version = Answer<'/v1/designs/{id}/versions'>['items'][number];
type Summary = Answer<'/v1/evaluations'>['items'][number];

const COMPARED = [
  'massG',
  'circumferenceMm',
  'stiffnessNPerMm',
  'restitution',
  'peakForceN',
  'cyclesToFailure',
  'partsPerBuild',
  'totalPerPart',
] as const;

/** A design: its versions as they follow from each other, and what each came to side by side. */
export function Design({ id }: { id: string }) {
  const design = useResource<Answer<'/v1/designs/{id}'>>(`/v1/designs/${id}`);
  const versions = useResource<Answer<'/v1/designs/{id}/versions'>>(`/v1/designs/${id}/versions?limit=200`, {
    everyMs: 10_000,
    isLive: () => true,
  });
  const evaluations = useResource<Answer<'/v1/evaluations'>>(`/v1/evaluations?designId=${id}&limit=200`, {
    everyMs: 3000,
    isLive: ({ items }) => items.some(({ status }) => status === 'queued' || status === 'running'),
  });
  return (
    <Shown of={design}>
      {({ name, notes, tags }) => (
        <>
          <h1 tabIndex={-1}>{name}</h1>
          <p>
            {notes}{' '}
            {tags.map((tag) => (
              <span key={tag} class="tag">
                {tag}
              </span>
            ))}
          </p>
          <Shown of={versions}>
            {({ items }) => (
              <div class="grid">
                <section class="card">
                  <h2>How versions follow from each other</h2>
                  {items.length === 0 ? <p class="quiet">No version yet.</p> : <Lineage versions={items} of={null} />}
                  <p>
                    <a href={`#/new?design=${id}`}>Add a version</a>
                  </p>
                </section>
                <section class="card wide scroll">
                  <h2>Versions side by side</h2>
                  <Comparison versions={items} evaluations={evaluations.data?.items ?? []} />
                </section>
              </div>
            )}
          </Shown>
        </>
      )}
    </Shown>
  );
}

/** The versions based on one, each with those based on it. */
function Lineage({ versions, of }: { versions: readonly Version[]; of: string | null }) {
  const own = versions.filter(({ basedOn }) => basedOn === of).sort((a, b) => a.number - b.number);
  if (own.length === 0) return null;
  return (
    <ul>
      {own.map(({ id, designId, number, notes, createdAt }) => (
        <li key={id}>
          <a href={`#/new?design=${designId}&based-on=${number}`} title="Begin a version based on this one">
            version {number}
          </a>{' '}
          {notes} <span class="quiet">{ago(createdAt)}</span>
          <Lineage versions={versions} of={id} />
        </li>
      ))}
    </ul>
  );
}

function Comparison({ versions, evaluations }: { versions: readonly Version[]; evaluations: readonly Summary[] }) {
  const best = (id: string) => evaluations.filter(({ versionId }) => versionId === id).sort((a, b) => filled(b) - filled(a))[0];
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">version</th>
          <th scope="col">state</th>
          {COMPARED.map((quantity) => (
            <th scope="col" class="number" key={quantity}>
              {label(quantity).name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {versions.map(({ id, number, notes }) => {
          const found = best(id);
          return (
            <tr key={id}>
              <th scope="row" title={notes}>
                {found ? <a href={`#/evaluations/${found.id}`}>{number}</a> : number}
              </th>
              <td>{found ? <State is={found.verdict ?? found.status} /> : <span class="quiet">not evaluated</span>}</td>
              {COMPARED.map((quantity) => (
                <td class="number" key={quantity}>
                  <Quantity name={quantity} of={found?.quantities[quantity]} />
                </td>
              ))}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** How much an evaluation tells: the deepest one of a version is shown. */
const filled = ({ quantities }: Summary): number => Object.values(quantities).filter((value) => value !== null).length;
