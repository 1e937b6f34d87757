/** The scripts that make figures live. They are constants: a report takes them out of its outputs and allows them by
 * their checksums alone. They fetch nothing. */

/** Unpacks the plotting script (gzip in base64, the text of the element with this id or the argument) and starts it. */
export const loaderFunction = `function(w,d,packed){
if(w.__dialbookPlotly)return;
w.__dialbookPlotly=(async function(){
if(w.Plotly)return w.Plotly;
var bytes=Uint8Array.from(atob(packed),function(c){return c.charCodeAt(0)});
var text=await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).blob();
var url=URL.createObjectURL(new Blob([text],{type:"text/javascript"}));
await new Promise(function(done,failed){
var s=d.createElement("script");s.src=url;s.onload=done;s.onerror=failed;d.head.appendChild(s)});
URL.revokeObjectURL(url);
return w.Plotly})()}`;

/** Draws every figure of the page that is not drawn yet, once the plotting script is there; waits 20 s for it. Beside the
 * button that saves what is seen as PNG stands one that saves the still picture, all of it lines and letters, as SVG. On less
 * than 480 px titles and ticks would run into each other: there the still picture, which shrinks as a whole, stays until it
 * is touched, and the live one is then wider than its frame, which scrolls. */
export const drawScript = `(function(w,d){
function name(f){
var t=/<b>([^]*?)<\\/b>/.exec(f.layout.title&&f.layout.title.text||"");
return(t?t[1]:"").replace(/<[^>]*>|&[a-z]+;/g," ").normalize("NFKD").replace(/[\\u0300-\\u036f]/g,"").toLowerCase().replace(/[^a-z0-9]+/g,"-").slice(0,60).replace(/^-|-$/g,"")||"figure"}
function config(P,f,still){
return{responsive:true,displaylogo:false,plotlyServerURL:"",modeBarButtonsToRemove:["sendChartToCloud","sendDataToCloud","lasso2d","select2d"],
toImageButtonOptions:{format:"png",filename:name(f),scale:2},
modeBarButtonsToAdd:still?[{name:"svg",title:"Download the still picture as SVG",icon:P.Icons.disk,
click:function(){var a=d.createElement("a");a.href=still.src;a.download=name(f)+".svg";d.body.appendChild(a);a.click();a.remove()}}]:[]}}
function draw(P,el){
if(el.dataset.drawn)return;
var wide=el.clientWidth||640,narrow=wide<480;
if(narrow&&!el.dataset.touched){el.title="Touch to turn it and read values";
el.addEventListener("click",function(){el.dataset.touched="1";el.removeAttribute("title");draw(P,el)},{once:true});return}
el.dataset.drawn="1";
var f;try{f=JSON.parse(el.dataset.spec)}catch(e){return}
var live=d.createElement("div"),still=el.querySelector("img");
live.className="db-live";live.setAttribute("role","img");live.setAttribute("aria-label",still?still.alt:"");
if(narrow){el.style.overflowX="auto";live.style.width="640px"}
else f.layout.height=Math.round(f.layout.height*Math.min(1,wide/640));
live.style.height=f.layout.height+"px";el.appendChild(live);if(still)still.style.display="none";
P.newPlot(live,f.data,f.layout,config(P,f,still))
.catch(function(){live.remove();if(still)still.style.display=""})}
function all(P){d.querySelectorAll("[data-dialbook-figure]").forEach(function(el){draw(P,el)})}
var until=Date.now()+20000;
(function wait(){
if(w.__dialbookPlotly)w.__dialbookPlotly.then(all,function(){});
else if(Date.now()<until)setTimeout(wait,100)})()})(window,document)`;

/** The element by which a figure's HTML brings its script along. */
export const drawTag = `<script>${drawScript}</script>`;
