/** The link of the document in the page's address. */
import { encodeLink } from '../sheet/link.ts';
import type { Trials } from '../sheet/trials.ts';

/** Whether two documents say the same but for which trial is on the table. */
const sameContent = (a: Trials, b: Trials): boolean =>
  a.trials === b.trials && a.blind === b.blind && a.spread === b.spread && a.search === b.search;

/** The page's one address. */
export class Address {
  /** What the link in the address carries, if there is one that we know of. */
  #linked: Trials | null = null;

  /** Puts the link of a document into the address. Returns the new address. */
  put(trials: Trials, fragment: string): string {
    this.#linked = trials;
    return show(fragment);
  }

  /** A link that is no longer the document's would win over the kept one when the page is opened again. */
  settle(trials: Trials): void {
    if (!this.#linked || sameContent(this.#linked, trials)) return;
    this.#linked = null;
    show('');
  }

  /**
   * Puts the link of a document on the clipboard and into the address. Returns the link and whether the clipboard took it.
   */
  async copy(trials: () => Trials): Promise<{ readonly url: string; readonly copied: boolean }> {
    const url = await this.linkOf(trials);
    try {
      await navigator.clipboard.writeText(url);
      return { url, copied: true };
    } catch {
      // Refused, or a page that isn't served securely and has no clipboard at all.
      return { url, copied: false };
    }
  }

  /** The whole address of a document; it becomes the page's own unless the document has changed meanwhile. */
  async linkOf(trials: () => Trials): Promise<string> {
    const asked = trials();
    const fragment = await encodeLink(asked);
    return sameContent(asked, trials()) ? this.put(asked, fragment) : withFragment(fragment);
  }
}

function withFragment(fragment: string): string {
  const plain = location.href.split('#')[0] ?? '';
  return fragment === '' ? plain : `${plain}#${fragment}`;
}

function show(fragment: string): string {
  const url = withFragment(fragment);
  // Without a new entry, so that the back button still leaves the page.
  window.history.replaceState(null, '', url);
  return url;
}
