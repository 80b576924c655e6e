import { useEffect, useState } from 'preact/hooks';
import { ask, fetched, Refused } from '../client.ts';
import { contract } from '../contract.ts';

interface Kind {
  name: string;
  what: string;
  depth?: string;
}

const LOOK_MS = 700;
const LONGEST_MS = 120_000;

/** Every file that can be made of an evaluation; one that is not there yet is made first. */
export function Files({ id, depth }: { id: string; depth: 'geometry' | 'static' | 'full' }) {
  const [kinds, setKinds] = useState<Kind[]>([]);
  const [busy, setBusy] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    void contract().then(({ FILE_KINDS }) => setKinds(Object.entries(FILE_KINDS).map(([name, kind]) => ({ name, ...kind }))));
  }, []);
  const has = (needed: string | undefined) => !needed || depth === 'full' || depth === needed;

  const save = async (name: string) => {
    setBusy(name);
    setError(null);
    try {
      const link = Object.assign(document.createElement('a'), { href: URL.createObjectURL(await made(id, name)), download: name });
      link.click();
      URL.revokeObjectURL(link.href);
    } catch (fault) {
      setError(`${name}: ${(fault as Error).message}`);
    }
    setBusy(null);
  };
  return (
    <>
      <ul class="plain files">
        {kinds
          .filter((kind) => has(kind.depth))
          .map(({ name, what }) => (
            <li key={name}>
              <button type="button" disabled={busy !== null} onClick={() => save(name)}>
                {busy === name ? 'Making it …' : name}
              </button>{' '}
              <span class="quiet">{what}</span>
            </li>
          ))}
      </ul>
      <p class="fault" role="status">
        {error}
      </p>
    </>
  );
}

/** The file's content; where it is still to be made, it is ordered and waited for. */
export async function made(id: string, name: string): Promise<Blob> {
  const url = `/v1/evaluations/${id}/files/${name}`;
  const ordered = Date.now();
  for (let asked = false; Date.now() - ordered < LONGEST_MS; ) {
    try {
      return await fetched(url);
    } catch (error) {
      if (!(error instanceof Refused) || error.code !== 'file-not-made') throw error;
      if (!asked) await ask(`/v1/evaluations/${id}/files`, { method: 'POST', body: { name } });
      asked = true;
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
    }
  }
  throw new Error('it takes longer than two minutes; ask again later.');
}
