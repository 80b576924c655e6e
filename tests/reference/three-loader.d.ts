/** What is used of the 3MF loader that comes with three.js, which has no types of its own. */
declare module 'three/examples/jsm/loaders/3MFLoader.js' {
  interface Object3D {
    readonly isMesh?: boolean;
    readonly name: string;
    readonly matrixWorld: { readonly elements: readonly number[] };
    readonly geometry: {
      readonly attributes: { readonly position: { readonly array: Float32Array } };
      readonly index: { readonly array: Uint32Array } | null;
    };
    traverse(visit: (object: Object3D) => void): void;
    updateMatrixWorld(force: boolean): void;
  }
  export class ThreeMFLoader {
    parse(data: ArrayBufferLike): Object3D;
  }
}

declare module 'three/examples/jsm/loaders/STLLoader.js' {
  interface Attribute {
    readonly count: number;
    readonly array: Float32Array;
  }
  export class STLLoader {
    parse(data: ArrayBuffer): { readonly attributes: { readonly position: Attribute; readonly normal: Attribute } };
  }
}

declare module 'three/examples/jsm/loaders/GLTFLoader.js' {
  interface Geometry {
    readonly index: { readonly count: number } | null;
    readonly boundingBox: { readonly max: { readonly y: number } } | null;
    computeBoundingBox(): void;
  }
  export class GLTFLoader {
    parseAsync(
      data: ArrayBuffer,
      path: string,
    ): Promise<{ readonly scene: { traverse(visit: (object: { readonly geometry?: Geometry }) => void): void } }>;
  }
}

declare module 'gltf-validator' {
  interface Report {
    readonly issues: { readonly numErrors: number; readonly numWarnings: number };
    readonly info: { readonly totalTriangleCount: number };
  }
  export function validateBytes(bytes: Uint8Array): Promise<Report>;
}
