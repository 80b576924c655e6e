/** Where a picture is taken from: unit vectors to the right and up in the picture, and from the part towards the eye. Rays are parallel. */
export interface Camera {
  readonly right: readonly [number, number, number];
  readonly up: readonly [number, number, number];
  readonly toEye: readonly [number, number, number];
}

export type ViewName = 'corner' | 'front' | 'side' | 'top';

const [c, s] = [Math.cos(Math.PI / 5), Math.sin(Math.PI / 5)];
const [ct, st] = [Math.cos(Math.PI / 8), Math.sin(Math.PI / 8)];

/** z is up except from the top, where y is; the corner lies 36 degrees round and 22.5 degrees above. */
export const CAMERAS: Readonly<Record<ViewName, Camera>> = {
  front: { right: [1, 0, 0], up: [0, 0, 1], toEye: [0, -1, 0] },
  side: { right: [0, 1, 0], up: [0, 0, 1], toEye: [1, 0, 0] },
  top: { right: [1, 0, 0], up: [0, 1, 0], toEye: [0, 0, 1] },
  corner: { right: [c, s, 0], up: [-st * s, st * c, ct], toEye: [s * ct, -c * ct, st] },
};
