import { useRef } from 'preact/hooks';

const PAUSE_MS = 350;

/** For a form of filters: once typing pauses, what is filled in as a query; numbers may have a decimal comma. */
export function useFilter(onChange: (query: string) => void): (event: Event) => void {
  const timer = useRef<ReturnType<typeof setTimeout>>(undefined);
  return (event) => {
    const form = event.currentTarget as HTMLFormElement;
    clearTimeout(timer.current);
    timer.current = setTimeout(() => {
      const wanted = new URLSearchParams();
      for (const [name, value] of new FormData(form)) if (value !== '') wanted.set(name, String(value).replace(/^(-?\d+),(\d+)$/, '$1.$2'));
      onChange(wanted.toString());
    }, PAUSE_MS);
  };
}
