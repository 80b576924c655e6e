import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { Comparison } from '../parts/comparison.tsx';
import { Difference } from '../parts/difference.tsx';
import { Lineage } from '../parts/lineage.tsx';
import { Measured } from '../parts/measured.tsx';
import { Problem, Shown } from '../parts/shown.tsx';
import { useResource } from '../use-resource.ts';

/** A design: its versions as they follow from each other, and what each came to side by side. */
export function Design({ id }: { id: string }) {
  const design = useResource<Answer<'/v1/designs/{id}'>>(`/v1/designs/${id}`);
  const versions = useResource<Answer<'/v1/designs/{id}/versions'>>(`/v1/designs/${id}/versions?limit=200`, {
    everyMs: 10_000,
    isLive: () => true,
  });
  const lineage = useResource<Answer<'/v1/designs/{id}/lineage'>>(`/v1/designs/${id}/lineage`, { everyMs: 10_000, isLive: () => true });
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
          <Notes id={id} notes={notes} tags={tags} onChange={design.refresh} />
          <Shown of={versions}>
            {({ items }) => (
              <div class="grid">
                <section class="card wide">
                  <h2>How versions follow from each other</h2>
                  {items.length === 0 ? (
                    <p class="quiet">No version yet.</p>
                  ) : (
                    <Shown of={lineage}>{({ items: tree }) => <Lineage designId={id} versions={tree} />}</Shown>
                  )}
                  <p>
                    <a href={`#/new?design=${id}`}>Add a version</a>
                  </p>
                </section>
                {items.length > 1 && (
                  <section class="card">
                    <h2>What was changed</h2>
                    <Difference designId={id} numbers={items.map(({ number }) => number)} />
                  </section>
                )}
                <section class="card wide scroll">
                  <h2>Versions side by side</h2>
                  <Comparison versions={items} />
                </section>
                <Measured designId={id} />
              </div>
            )}
          </Shown>
        </>
      )}
    </Shown>
  );
}

function Notes({ id, notes, tags, onChange }: { id: string; notes: string; tags: readonly string[]; onChange: () => void }) {
  const [error, setError] = useState<Refused | null>(null);
  const save = (event: SubmitEvent) => {
    event.preventDefault();
    const given = new FormData(event.target as HTMLFormElement);
    const words = String(given.get('tags')).split(/[\s,]+/);
    ask(`/v1/designs/${id}`, { method: 'PATCH', body: { notes: given.get('notes'), tags: words.filter(Boolean) } }).then(() => {
      setError(null);
      onChange();
    }, setError);
  };
  return (
    <details>
      <summary>Change notes and tags</summary>
      <form class="card" onSubmit={save}>
        <label>
          notes
          <textarea name="notes" rows={2} maxLength={10_000} defaultValue={notes} />
        </label>
        <label>
          tags, with spaces between
          <input name="tags" defaultValue={tags.join(' ')} />
        </label>
        {error && <Problem error={error} />}
        <div>
          <button type="submit">Keep</button>
        </div>
      </form>
    </details>
  );
}
