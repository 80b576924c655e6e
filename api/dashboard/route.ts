import { useEffect, useState } from 'preact/hooks';

/** Where the dashboard is: the parts of the address after `#/`, and its query. */
export interface Place {
  parts: string[];
  query: URLSearchParams;
}

function here(): Place {
  const [path, query = ''] = location.hash.replace(/^#\/?/, '').split('?');
  return { parts: path.split('/').filter(Boolean).map(decodeURIComponent), query: new URLSearchParams(query) };
}

export function usePlace(): Place {
  const [place, setPlace] = useState(here);
  useEffect(() => {
    const moved = () => {
      setPlace(here());
      // a new screen begins at its heading, also for who listens to it
      document.querySelector<HTMLElement>('h1')?.focus();
    };
    addEventListener('hashchange', moved);
    return () => removeEventListener('hashchange', moved);
  }, []);
  return place;
}

export const go = (to: string): void => {
  location.hash = to;
};
