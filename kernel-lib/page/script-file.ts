/**
 * A script of the server that a page asks for when it first needs it, and what that script leaves in the window.
 *
 * @returns asks for it; asked again, the same is given, or the script is tried once more where it did not load
 */
export function scriptFile<Left>(name: string, left: string): () => Promise<Left> {
  let loading: Promise<Left> | undefined;
  return () => {
    loading ??= new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.src = `/asset/${name}`;
      script.onload = () => resolve(Reflect.get(window, left) as Left);
      script.onerror = () => {
        loading = undefined;
        script.remove();
        reject(new Error(`${name} did not load`));
      };
      document.head.append(script);
    });
    return loading;
  };
}
