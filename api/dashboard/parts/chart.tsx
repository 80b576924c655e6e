import { number } from '../words.ts';

export interface Curve {
  name: string;
  points: readonly (readonly [number, number])[];
}

const [WIDTH, HEIGHT, LEFT, BOTTOM, TOP, RIGHT] = [460, 250, 52, 36, 10, 12];

/** Curves over one pair of axes; the first is drawn through, others are dashed. `title` says what is seen to who does not see it. */
export function Chart({ title, x, y, curves }: { title: string; x: string; y: string; curves: readonly Curve[] }) {
  const all = curves.flatMap(({ points }) => points);
  if (all.length < 2) return null;
  const [xTicks, yTicks] = [0, 1].map((k) => ticks(Math.min(0, ...all.map((p) => p[k])), Math.max(...all.map((p) => p[k]))));
  const at = ([px, py]: readonly [number, number]) =>
    `${(LEFT + ((px - xTicks[0]) / (xTicks.at(-1)! - xTicks[0])) * (WIDTH - LEFT - RIGHT)).toFixed(1)},${(HEIGHT - BOTTOM - ((py - yTicks[0]) / (yTicks.at(-1)! - yTicks[0])) * (HEIGHT - BOTTOM - TOP)).toFixed(1)}`;
  return (
    <figure style={{ margin: 0 }}>
      <svg class="chart" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={title}>
        {xTicks.map((tick) => {
          const [px] = at([tick, yTicks[0]]).split(',');
          return (
            <g key={`x${tick}`}>
              <path class="axis" d={`M${px},${TOP}V${HEIGHT - BOTTOM}`} />
              <text x={px} y={HEIGHT - BOTTOM + 14} text-anchor="middle">
                {number(tick)}
              </text>
            </g>
          );
        })}
        {yTicks.map((tick) => {
          const [, py] = at([xTicks[0], tick]).split(',');
          return (
            <g key={`y${tick}`}>
              <path class="axis" d={`M${LEFT},${py}H${WIDTH - RIGHT}`} />
              <text x={LEFT - 6} y={Number(py) + 4} text-anchor="end">
                {number(tick)}
              </text>
            </g>
          );
        })}
        {curves.map(({ name, points }, k) => (
          <polyline key={name} class={k === 0 ? 'curve' : 'curve second'} points={points.map(at).join(' ')} />
        ))}
        <text x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 4} text-anchor="middle">
          {x}
        </text>
        <text x={-(HEIGHT - BOTTOM + TOP) / 2} y={11} text-anchor="middle" transform="rotate(-90)">
          {y}
        </text>
      </svg>
      {curves.length > 1 && (
        <figcaption class="quiet">
          {curves.map(({ name }, k) => `${name} (${k === 0 ? 'line' : 'dashed'})`).join(', ')}
        </figcaption>
      )}
    </figure>
  );
}

/** Round steps of 1, 2 or 5 that cover the range. */
function ticks(low: number, high: number): number[] {
  const span = high - low || Math.abs(high) || 1;
  const power = 10 ** Math.floor(Math.log10(span / 4));
  const step = [1, 2, 5, 10].map((k) => k * power).find((each) => span / each <= 6)!;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.ceil(high / step - 1e-9);
  return Array.from({ length: last - first + 1 }, (_, k) => Number(((first + k) * step).toPrecision(12)));
}
