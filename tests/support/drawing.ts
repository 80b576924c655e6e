import { DOMParser, type Element } from '@xmldom/xmldom';

/** What is read of an SVG picture: it has to be well-formed, or reading throws. */
export interface Drawing {
  readonly root: Element;
  readonly text: string;
  /** Shapes of the marks of one kind ("dot", "line", "link", ...), a list for each mark in the order in which they were drawn. */
  marks(kind: string): Element[][];
}

const SHAPES = new Set(['path', 'circle', 'line', 'rect', 'text']);

export function readDrawing(svg: string): Drawing {
  const root = new DOMParser({
    onError: (_, message) => {
      throw new Error(message);
    },
  }).parseFromString(svg, 'image/svg+xml').documentElement!;
  const below = (element: Element): Element[] => [...element.getElementsByTagName('*')];
  return {
    root,
    text: root.textContent ?? '',
    marks: (kind) =>
      below(root)
        .filter((each) => each.tagName === 'g' && each.getAttribute('aria-label') === kind)
        .map((group) => below(group).filter(({ tagName }) => SHAPES.has(tagName))),
  };
}
