/** Where a sheet's fields lie that were computed when the app was built (vite.config.ts); null where nothing is built. */
declare module '*.json?fields' {
  const address: string | null;
  export default address;
}
