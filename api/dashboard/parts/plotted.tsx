import { useEffect, useRef, useState } from 'preact/hooks';
import { made } from './files.tsx';

type Plots = typeof import('../../../worker/plots/index.ts');

/** A plot as the page takes it: it allows no style sheets but its own, and one picture has one name, its parts have none. */
function plain<T extends Element>(element: T): T {
  for (const style of element.querySelectorAll('style')) style.remove();
  for (const part of element.querySelectorAll('[aria-label]')) part.removeAttribute('aria-label');
  return element;
}

/** A plot, drawn once its library has come; until then as much room as it will take. */
export function Plotted({ draw, of }: { draw: (plots: Plots) => { outerHTML: string }; of: unknown }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let gone = false;
    void import('../../../worker/plots/index.ts').then((plots) => {
      if (gone || !box.current) return;
      const element = draw(plots) as unknown as HTMLElement;
      box.current.replaceChildren(plain(element));
    });
    return () => {
      gone = true;
    };
  }, [of]);
  return <div class="plot" ref={box} />;
}

/** Parsed as a picture, so that nothing in it runs. The page lets no text set styles: they are put aside, and set by this code. */
function parsed(text: string): SVGElement {
  const quiet = text.replace(/<style>[^<]*<\/style>/g, '').replaceAll(' style="', ' data-style="');
  const svg = new DOMParser().parseFromString(quiet, 'image/svg+xml').documentElement as unknown as SVGElement;
  for (const each of [svg, ...svg.querySelectorAll<SVGElement>('[data-style]')]) each.style.cssText = each.dataset.style ?? '';
  return svg;
}

/** A drawing that the service makes of an evaluation, when somebody wants it. */
export function Drawing({ id, name }: { id: string; name: string }) {
  const [state, setState] = useState<'not asked' | 'asked' | 'shown'>('not asked');
  const [failed, setFailed] = useState<string | null>(null);
  const box = useRef<HTMLDivElement>(null);
  const draw = async () => {
    setState('asked');
    setFailed(null);
    try {
      const svg = parsed(await (await made(id, name)).text());
      setState('shown');
      box.current?.replaceChildren(plain(svg));
    } catch (fault) {
      setFailed((fault as Error).message);
      setState('not asked');
    }
  };
  return (
    <>
      {state !== 'shown' && (
        <button type="button" disabled={state === 'asked'} onClick={draw}>
          {state === 'asked' ? 'Drawing …' : `Draw ${name.replace('.svg', '').replace('-', ' ')}`}
        </button>
      )}
      {failed && <p class="fault">{failed}</p>}
      <div class={state === 'shown' ? 'plot' : ''} ref={box} />
    </>
  );
}
