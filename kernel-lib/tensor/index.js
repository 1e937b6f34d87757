// Stands in for the tensor package that danfojs-node would bring (285 MB). Data frames work without it;
// tensors and scalers refuse with a sentence.
class Tensor {} // danfojs tests values with `instanceof Tensor`
module.exports = new Proxy(
  { Tensor },
  {
    get: (target, name) =>
      name in target || typeof name === "symbol" || name === "__esModule" || name === "default"
        ? target[name]
        : () => {
            throw new Error(`danfojs: .${String(name)} needs a tensor package, which this install leaves out`);
          },
  },
);
