/** Its type is declared here, as far as it is used, because this room knows no browser. */
declare const TextEncoder: new () => { encode(text: string): Uint8Array };

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);
