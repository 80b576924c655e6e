import { useEffect, useRef } from 'preact/hooks';

type Plots = typeof import('../../../worker/plots/index.ts');

/** A plot, drawn once its library has come; until then as much room as it will take. */
export function Plotted({ draw, of }: { draw: (plots: Plots) => { outerHTML: string }; of: unknown }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    let gone = false;
    void import('../../../worker/plots/index.ts').then((plots) => {
      if (gone || !box.current) return;
      const element = draw(plots) as unknown as HTMLElement;
      // the page allows no style sheets but its own
      for (const style of element.querySelectorAll('style')) style.remove();
      // one picture with one name: its parts have none
      for (const part of element.querySelectorAll('[aria-label]')) part.removeAttribute('aria-label');
      box.current.replaceChildren(element);
    });
    return () => {
      gone = true;
    };
  }, [of]);
  return <div class="plot" ref={box} />;
}
