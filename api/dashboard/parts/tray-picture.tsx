/** Told apart by everybody (Okabe and Ito). */
const COLOURS = ['#0072b2', '#e69f00', '#009e73', '#cc79a7', '#56b4e9', '#d55e00'];
export const versionColour = (k: number): string => COLOURS[k % COLOURS.length];

interface Placement {
  versionId: string;
  markedName: string;
  centreMm: readonly [number, number, number];
  diameterMm: number;
}
interface TrayPictureProps {
  chamberMm: readonly [number, number, number];
  placements: readonly Placement[];
  versions: readonly string[];
}

/** The chamber from above and from the front, each part as its sphere; what is nearer is drawn over what is behind. */
export function TrayPicture(props: TrayPictureProps) {
  return (
    <div class="tray">
      <View {...props} name="from above" across={0} up={1} towards={2} sign={1} />
      <View {...props} name="from the front" across={0} up={2} towards={1} sign={-1} />
    </div>
  );
}

interface Axes {
  name: string;
  across: 0 | 1 | 2;
  up: 0 | 1 | 2;
  towards: 0 | 1 | 2;
  sign: 1 | -1;
}

function View({ chamberMm, placements, versions, name, across, up, towards, sign }: TrayPictureProps & Axes) {
  const [width, height] = [chamberMm[across], chamberMm[up]];
  const pad = width / 50;
  const ordered = [...placements].sort((a, b) => sign * (a.centreMm[towards] - b.centreMm[towards]));
  return (
    <figure>
      <svg
        viewBox={`${-pad} ${-pad} ${width + 2 * pad} ${height + 2 * pad}`}
        role="img"
        aria-label={`${placements.length} parts in the chamber, ${name}`}
      >
        <rect width={width} height={height} fill="none" stroke="currentColor" stroke-width={width / 250} />
        {ordered.map(({ versionId, markedName, centreMm, diameterMm }) => (
          <g key={markedName + centreMm.join()} transform={`translate(${centreMm[across]} ${height - centreMm[up]})`}>
            <circle
              r={diameterMm / 2}
              fill={versionColour(versions.indexOf(versionId))}
              fill-opacity="0.75"
              stroke="currentColor"
              stroke-width={width / 400}
            >
              <title>{markedName}</title>
            </circle>
          </g>
        ))}
      </svg>
      <figcaption class="quiet">
        {name}, {width} × {height} mm
      </figcaption>
    </figure>
  );
}
