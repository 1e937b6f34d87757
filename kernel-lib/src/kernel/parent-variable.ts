/** Tells a kernel which process has started it; in a file of its own, as whoever loads the watch beside it watches. */
export const parentVariable = "DIALBOOK_PARENT";
