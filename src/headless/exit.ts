/** What the program tells the one that called it. `limit`: a broken limit under --strict, or a check that failed. */
export const exitCodes = { finished: 0, limit: 1, refused: 2, failed: 3, usage: 4 } as const
