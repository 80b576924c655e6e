/** What is used of the 3MF loader that comes with three.js, which has no types of its own. */
declare module 'three/examples/jsm/loaders/3MFLoader.js' {
  interface Object3D {
    readonly isMesh?: boolean;
    readonly name: string;
    readonly matrixWorld: { readonly elements: readonly number[] };
    readonly geometry: { readonly attributes: { readonly position: { readonly array: Float32Array } } };
    traverse(visit: (object: Object3D) => void): void;
    updateMatrixWorld(force: boolean): void;
  }
  export class ThreeMFLoader {
    parse(data: ArrayBufferLike): Object3D;
  }
}
