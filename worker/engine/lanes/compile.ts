/** A block of bytes that compiled programs work on. */
export interface LaneMemory {
  readonly buffer: ArrayBuffer;
}

type Compiled = (...parameters: number[]) => void;

/** WebAssembly of the JavaScript engine (not of a browser's page): the part that is needed here. */
declare const WebAssembly: {
  readonly Memory: new (pages: { initial: number }) => LaneMemory;
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: { readonly f: Compiled } };
};

const PAGE_BYTES = 65536;

/** Memory of at least so many bytes, all zero. */
export const laneMemory = (bytes: number): LaneMemory => new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE_BYTES) });

/** Modules by their bytes, a handful: the JavaScript engine makes fast code only after a while, and forgets it with its module. */
const modules = new Map<string, object>();

/** A lane program as a function on a memory. */
export function compiled(program: Uint8Array, memory: LaneMemory): Compiled {
  const bytes = String.fromCharCode(...program);
  const module = modules.get(bytes) ?? new WebAssembly.Module(program);
  modules.set(bytes, module);
  return new WebAssembly.Instance(module, { m: { m: memory } }).exports.f;
}
