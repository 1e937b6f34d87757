// Loaded before a command: the five ports that it picks first stay taken, as by a program that was a moment quicker.
const net = require("node:net");

const create = net.createServer;
let picked = 0;
net.createServer = (...given) => {
  const server = create(...given);
  picked += 1;
  if (picked > 5) return server;
  server.close = (done) => {
    server.unref();
    done?.();
    return server;
  };
  return server;
};
