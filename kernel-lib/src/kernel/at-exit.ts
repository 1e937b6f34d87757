/** what is still to be done when this process ends */
const acts = new Set<() => void>();

/** one listener for all, as Node takes more than ten of one kind for a leak */
const all = (): void => {
  for (const act of acts) act();
};

/** Does something when this process ends. @returns what takes that back */
export function atExit(act: () => void): () => void {
  if (acts.size === 0) process.on("exit", all);
  acts.add(act);
  return () => {
    if (acts.delete(act) && acts.size === 0) process.off("exit", all);
  };
}
