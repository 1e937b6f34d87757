// Stands in for the deprecated network client that danfojs-node would bring: Dialbook reads files, never addresses.
module.exports = () => {
  throw new Error(
    "danfojs: reading from a network address is left out of this install; save the file and read it from disk",
  );
};
