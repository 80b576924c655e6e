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

/** A lane program as a function on a memory. */
export const compiled = (program: Uint8Array, memory: LaneMemory): Compiled =>
  new WebAssembly.Instance(new WebAssembly.Module(program), { m: { m: memory } }).exports.f;
