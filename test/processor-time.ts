/** ms of the processor that a piece of work takes, whatever else the machine does meanwhile */
export function processorMs(work: () => void): number {
  const before = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}
