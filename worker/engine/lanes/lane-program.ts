/** A value of the program: one number for each of two things that go side by side (a 128-bit register). */
export type Lanes = number & { readonly lanes: true };
/** A byte address that the program computes. */
export type Address = number & { readonly address: true };
/** Addresses of the same thing for both lanes. */
export type Pair = readonly [Address, Address];

/**
 * Writes a function of a WebAssembly module: `params` byte addresses or counts come in, `body` tells what is done to them. Every operation is a step of
 * the function in the order in which it is called (WebAssembly core specification 2.0 with its vector instructions). The module imports its memory as
 * `m.m` and exports the function as `f`.
 */
export function laneProgram(params: number, body: (program: LaneProgram) => void): Uint8Array {
  const code: number[] = [];
  // Constants are made once, before everything else.
  const before: number[] = [];
  const constants = new Map<number, Lanes>();
  let lanes = 0;
  let scalars = 0;
  const put = (...bytes: number[]) => void code.push(...bytes);
  const get = (local: number) => put(0x20, ...leb(local));
  const vector = (op: number) => put(0xfd, ...leb(op));
  const memory = (op: number, offset: number) => put(0xfd, ...leb(op), 3, ...leb(offset));
  const newLanes = () => (params + MAX_SCALARS + lanes++) as Lanes;
  const keep = (): Lanes => {
    const local = newLanes();
    put(0x21, ...leb(local));
    return local;
  };
  const newConstant = (x: number): Lanes => {
    const local = newLanes();
    before.push(0xfd, 12, ...new Uint8Array(Float64Array.of(x, x).buffer), 0x21, ...leb(local));
    constants.set(x, local);
    return local;
  };
  const keepScalar = (): Address => {
    const local = params + scalars++;
    put(0x21, ...leb(local));
    return local as Address;
  };
  const binary = (op: number) => (a: Lanes, b: Lanes) => {
    get(a);
    get(b);
    vector(op);
    return keep();
  };
  const program: LaneProgram = {
    param: (k) => k as Address,
    constant: (x) => constants.get(x) ?? newConstant(x),
    add: binary(240),
    sub: binary(241),
    mul: binary(242),
    div: binary(243),
    min: binary(244),
    max: binary(245),
    sqrt: (a) => {
      get(a);
      vector(239);
      return keep();
    },
    abs: (a) => {
      get(a);
      vector(236);
      return keep();
    },
    load: (address, offset) => {
      get(address);
      memory(0, offset);
      return keep();
    },
    splat: (address, offset) => {
      get(address);
      memory(10, offset);
      return keep();
    },
    store: (address, offset, value) => {
      get(address);
      get(value);
      memory(11, offset);
    },
    gather: ([first, second], offset) => {
      get(second);
      get(first);
      memory(93, offset);
      memory(87, offset);
      put(1);
      return keep();
    },
    scatter: (addresses, offset, value) => {
      addresses.forEach((address, lane) => {
        get(address);
        get(value);
        memory(91, offset);
        put(lane);
      });
    },
    scatterAdd: (addresses, values) => {
      addresses.forEach((address, lane) => {
        for (let k = 0; k < values.length; k += 2) {
          get(address);
          get(address);
          memory(0, 8 * k);
          get(values[k]);
          get(values[k + 1]);
          vector(13);
          for (const from of [8 * lane, 16 + 8 * lane]) for (let byte = 0; byte < 8; byte++) put(from + byte);
          vector(240);
          memory(11, 8 * k);
        }
      });
    },
    assign: (to, value) => {
      get(value);
      put(0x21, ...leb(to));
    },
    element: (base, list, offset, stride) => {
      get(base);
      get(list);
      put(0x28, 2, ...leb(offset), 0x41, ...leb(stride, true), 0x6c, 0x6a);
      return keepScalar();
    },
    beyond: (address, bytes) => {
      get(address);
      put(0x41, ...leb(bytes, true), 0x6a);
      return keepScalar();
    },
    move: (address, by) => {
      get(address);
      get(by);
      put(0x6a, 0x21, ...leb(address));
    },
    repeat: (count, steps, run) => {
      // while (count) { run; addresses += steps; count -= 1 }
      put(0x02, 0x40, 0x03, 0x40);
      get(count);
      put(0x45, 0x0d, 1);
      const first = scalars;
      run();
      scalars = first;
      for (const [address, bytes] of [...steps, [count, -1] as const]) {
        get(address);
        put(0x41, ...leb(bytes, true), 0x6a, 0x21, ...leb(address));
      }
      put(0x0c, 0, 0x0b, 0x0b);
    },
  };
  body(program);
  return moduleOf(params, lanes, [...before, ...code]);
}

export interface LaneProgram {
  param(k: number): Address;
  /** The same number in both lanes. */
  constant(x: number): Lanes;
  add(a: Lanes, b: Lanes): Lanes;
  sub(a: Lanes, b: Lanes): Lanes;
  mul(a: Lanes, b: Lanes): Lanes;
  div(a: Lanes, b: Lanes): Lanes;
  min(a: Lanes, b: Lanes): Lanes;
  max(a: Lanes, b: Lanes): Lanes;
  sqrt(a: Lanes): Lanes;
  abs(a: Lanes): Lanes;
  /** Two numbers side by side at address + offset (bytes). */
  load(address: Address, offset: number): Lanes;
  /** One number for both lanes. */
  splat(address: Address, offset: number): Lanes;
  store(address: Address, offset: number, value: Lanes): void;
  /** One number from each of two places. */
  gather(addresses: Pair, offset: number): Lanes;
  /** One number to each of two places. */
  scatter(addresses: Pair, offset: number, value: Lanes): void;
  /** Adds an even count of numbers to those that stand in a row at each lane's place, the first lane's before the second's. */
  scatterAdd(addresses: Pair, values: readonly Lanes[]): void;
  /** Puts a value in the place of one that was made before a `repeat`. */
  assign(to: Lanes, value: Lanes): void;
  /** base + stride * (the integer at list + offset). */
  element(base: Address, list: Address, offset: number, stride: number): Address;
  beyond(address: Address, bytes: number): Address;
  /** address += by, for strides that are known only when the program runs. */
  move(address: Address, by: Address): void;
  /** Runs `count` times and moves addresses on by bytes after each; count ends at 0. */
  repeat(count: Address, steps: readonly (readonly [Address, number])[], run: () => void): void;
}

const MAX_SCALARS = 16;

/** The module around one function body (binary format: type, import, function, export, code). */
function moduleOf(params: number, lanes: number, code: readonly number[]): Uint8Array {
  const section = (id: number, content: readonly number[]) => [id, ...leb(content.length), ...content];
  const text = (s: string) => [s.length, ...[...s].map((letter) => letter.charCodeAt(0))];
  const locals = [2, ...leb(MAX_SCALARS), 0x7f, ...leb(lanes), 0x7b];
  const body = [...locals, ...code, 0x0b];
  return Uint8Array.from([
    ...[0, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, [1, 0x60, params, ...new Array<number>(params).fill(0x7f), 0]),
    ...section(2, [1, ...text('m'), ...text('m'), 2, 0, 1]),
    ...section(3, [1, 0]),
    ...section(7, [1, ...text('f'), 0, 0]),
    ...section(10, [1, ...leb(body.length), ...body]),
  ]);
}

/** LEB128: seven bits a byte, the lowest first; signed where told. */
function leb(value: number, signed = false): number[] {
  const bytes: number[] = [];
  for (let rest = value; ; ) {
    const low = rest & 0x7f;
    rest >>= 7;
    const last = signed ? (rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0) : rest === 0;
    bytes.push(last ? low : low | 0x80);
    if (last) return bytes;
  }
}
