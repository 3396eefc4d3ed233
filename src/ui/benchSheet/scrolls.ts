/** Makes what is wider than its room a stop of the tab key, so that it can be scrolled from the keyboard. */
export function scrolls(node: HTMLElement): () => void {
  const look = new ResizeObserver(() => {
    if (node.scrollWidth > node.clientWidth + 1) node.tabIndex = 0;
    else node.removeAttribute('tabindex');
  });
  look.observe(node);
  return () => look.disconnect();
}
