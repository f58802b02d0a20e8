import { tick } from 'svelte'

/** Keeps what has the focus in sight when the words about it grow and take room from it. */
export async function keepInSight(row: Element | null): Promise<void> {
  await tick()
  row?.scrollIntoView({ block: 'nearest' })
}
