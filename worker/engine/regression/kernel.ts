/**
 * Correlation of two points at a distance r, measured in length scales: its value, and minus twice its slope by r^2, which is what a length scale's logarithm
 * changes per squared distance along that axis (Rasmussen and Williams 2006, equations 4.9 and 4.17).
 */
export interface Kernel {
  value(r2: number): number;
  slope(r2: number): number;
}

const matern = (r2: number): number => Math.sqrt(5 * r2);

export const KERNELS = {
  'squared-exponential': { value: (r2) => Math.exp(-r2 / 2), slope: (r2) => Math.exp(-r2 / 2) },
  'matern-5/2': {
    value: (r2) => (1 + matern(r2) + (5 / 3) * r2) * Math.exp(-matern(r2)),
    slope: (r2) => (5 / 3) * (1 + matern(r2)) * Math.exp(-matern(r2)),
  },
} as const satisfies Record<string, Kernel>;
export type KernelName = keyof typeof KERNELS;
export const KERNEL_NAMES = Object.keys(KERNELS) as KernelName[];
