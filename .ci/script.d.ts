// What the check of the browser scripts' types takes for granted: what other
// scripts bring, and that an element found in a page is of the kind looked for.
declare class Go { env: Record<string, string>; importObject: WebAssembly.Imports; run(i: WebAssembly.Instance): Promise<void>; }
declare var faultleafFiles: any;
interface Element { [name: string]: any }
interface EventTarget { [name: string]: any }
interface Uint8ArrayConstructor { fromBase64?(text: string): Uint8Array<ArrayBuffer> }
declare const symbols: Record<string, string>;
