import * as Plot from '@observablehq/plot';
import { drawn, KEY_PX, key, type Page, type PlotElement, SERIES } from './frame.ts';

interface Force {
  readonly deflectionMm: number;
  readonly forceN: number;
}

/** What is drawn of a compression: `stiffness` of a result. */
export interface Press {
  readonly curve: readonly Force[];
  readonly unloading: readonly Force[] | null;
  readonly firstBuckling: Force | null;
  readonly firstContact: Force | null;
}

const KEY = 'solid: pressed; dashed: let go';

/** Force over deflection between two plates, the way back where it was computed, and where struts buckle or touch. */
export function forceDeflectionPlot({ curve, unloading, firstBuckling, firstContact }: Press, page: Page = {}): PlotElement {
  const marked = [
    ...(firstBuckling ? [{ ...firstBuckling, what: 'first buckling' }] : []),
    ...(firstContact ? [{ ...firstContact, what: 'struts touch' }] : []),
  ];
  const axes = { x: 'deflectionMm', y: 'forceN' } as const;
  return drawn('Force over deflection between two plates', page, {
    marginTop: KEY_PX,
    x: { label: 'deflection, mm', zero: true },
    y: { label: 'force, N', zero: true },
    marks: [
      Plot.ruleY([0], { strokeOpacity: 0.5 }),
      Plot.line(curve, { ...axes, stroke: SERIES[0], strokeWidth: 2 }),
      ...(unloading ? [Plot.line(unloading, { ...axes, stroke: SERIES[1], strokeWidth: 2, strokeDasharray: '6 6' }), key(KEY)] : []),
      Plot.dot(marked, { ...axes, fill: SERIES[1], r: 4 }),
      Plot.text(marked, { ...axes, text: 'what', dy: -10, fill: 'currentColor' }),
    ],
  });
}
