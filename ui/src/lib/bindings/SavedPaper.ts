
/**
 * A paper that was saved.
 */
export type SavedPaper = { 
/**
 * Where.
 */
path: string, };
