import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { useResource } from '../use-resource.ts';
import { Shown } from './shown.tsx';

interface Page<T> {
  items: T[];
  nextCursor: string | null;
}

/**
 * Records of a list, newest first, a page at a time. Tools post at any hour, so each page is asked for again; the one below begins where it ends, so nothing
 * falls between them when new ones come.
 */
export function Newest<T>({
  of,
  query = '',
  cursor = '',
  empty = 'None yet.',
  children,
}: {
  /** Path of the list, and its filters. */
  of: string;
  query?: string;
  cursor?: string;
  empty?: ComponentChildren;
  children: (items: T[]) => ComponentChildren;
}) {
  const url = `${of}?limit=50${query && `&${query}`}${cursor && `&cursor=${encodeURIComponent(cursor)}`}`;
  const page = useResource<Page<T>>(url, { everyMs: 3000, isLive: () => true });
  const [older, setOlder] = useState(false);
  // a page that begins elsewhere now, as new ones came, stands until it is there
  const before = useRef(page.data);
  before.current = page.data ?? before.current;
  return (
    <Shown of={{ ...page, data: before.current }}>
      {({ items, nextCursor }) => (
        <>
          {items.length > 0 ? children(items) : cursor === '' && <p class="quiet">{empty}</p>}
          {nextCursor !== null &&
            (older ? (
              <Newest of={of} query={query} cursor={nextCursor} empty={empty}>
                {children}
              </Newest>
            ) : (
              <button type="button" onClick={() => setOlder(true)}>
                Show older ones
              </button>
            ))}
        </>
      )}
    </Shown>
  );
}
