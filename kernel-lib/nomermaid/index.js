// Stands in for the diagram language that Jupyter's page widgets would bring: no notebook here draws one.
const refuse = () => {
  throw new Error("diagrams in Markdown are left out of this install");
};
module.exports = { initialize() {}, parse: refuse, render: refuse };
module.exports.default = module.exports;
