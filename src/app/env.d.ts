/** What the build writes in. */
interface ImportMetaEnv {
  readonly SPANWRIGHT_VERSION: string
}
