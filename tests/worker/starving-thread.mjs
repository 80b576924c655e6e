import runEngine from '../../dist/worker/engine-thread.js';

/** The engine, which takes all the memory there is when the lattice is more than a dodecahedron. */
export default function starve(task) {
  const held = [];
  while (task.input.parameterSet.tiling.m > 1) held.push(new Array(10_000).fill(held.length));
  return runEngine(task);
}
