var e,t,n,r,i,a,o,s,c,l,u,d=Symbol.for(`pv`),f={},p=[],m=/^m(i|n|o|s|text|space)$/,h=Array.isArray,g=p.slice,_=Object.assign;function v(e){e&&e.parentNode&&e.remove()}function y(e,t,n){var r,i,a,o={},s=arguments.length;for(a in t)a==`key`?r=t[a]:a==`ref`&&typeof e!=`function`?i=t[a]:o[a]=t[a];return s>2&&(o.children=s>3?g.call(arguments,2):n),b(e,o,r,i,null)}function b(n,r,i,a,o){var s={type:n,props:r,key:i,ref:a,__k:null,__:null,__b:0,__e:null,__c:null,constructor:d,__v:o||++t,__i:-1,__u:0};return!o&&e.vnode&&e.vnode(s),s}function x(e){return e.children}function S(e,t){this.props=e,this.context=t,this.__g=0}function C(e,t){if(t==null)return e.__&&C(e.__,e.__i+1);for(var n;t<e.__k.length;t++)if((n=e.__k[t])&&n.__e)return n.__e;return typeof e.type!=`function`||e.props.__P?null:C(e)}function w(t){var n,r=t.__v,i=r.__e,a=[],o=[],s=t.__P;s&&((n=_({constructor:d},r)).__v=r.__v+1,e.vnode&&e.vnode(n),te(s,n,r,t.__n,s.namespaceURI,32&r.__u?[i]:null,a,i||C(r),32&r.__u,o),n.__v=r.__v,n.__.__k[n.__i]=n,P(a,n,o),r.__=r.__e=null,n.__e!=i&&T(n))}function T(e){if((e=e.__)&&e.__c&&!e.props.__P)return e.__e=null,e.__k.some(function(t){return t&&(e.__e=t.__e)}),T(e)}function E(t){(8&t.__g||(t.__g|=8,r.push(t),a++))&&i==e.debounceRendering||((i=e.debounceRendering)||queueMicrotask)(D)}function D(){try{for(var e,t=1;r.length;)r.length>t&&r.sort(o),e=r.shift(),t=r.length,8&e.__g&&w(e)}finally{(a=r.length)&&(i||queueMicrotask)(D)}}function O(e,t,n,r,i,a,o,s,c,l,u){var d,m,h,g,_,v,y=r.__k||p,b=t.length;for(c=k(n,t,y,c,b),d=0;d<b;d++)(h=n.__k[d])!=null&&(m=~h.__i&&y[h.__i]||f,h.__i=d,v=te(e,h,m,i,a,o,s,c,l,u),g=h.__e,(m.ref!=h.ref||8&m.__u)&&(m.ref&&ie(m.ref,null,h,m),h.ref&&u.push(h.ref,h.__c||g,h)),_||=g,4&h.__u?(c=A(h,c,e,!m.__v),m.__e&&(m.__e=null)):typeof h.type==`function`&&v!==void 0?c=v:g&&(c=g.nextSibling),h.__u&=-21);return n.__e=_,c}function k(e,t,n,r,i){var a,o,s,c,l,u,f,p,m,g=n.length,_=g,v=0,y=0,S=e.__k=Array(i);for(a=0;a<i;a++)(o=t[a])!=null&&typeof o!=`boolean`&&typeof o!=`function`?(typeof o!=`object`||o.constructor===String?o=S[a]=b(null,o):h(o)?o=S[a]=b(x,{children:o}):o.constructor===d&&o.__b?o=S[a]=b(o.type,o.props,o.key,o.ref,o.__v):S[a]=o,c=a+v,o.__=e,o.__b=e.__b+1,s=null,~(l=o.__i=j(o,n,c,_))&&(_--,(s=n[l])&&(s.__u|=2)),s&&s.__v?(o.__u|=16,l==c-1?v--:l==c+1?v++:l!=c&&(l>c?v--:v++,y=1)):(~l||(i>g?v--:i<g&&v++),typeof o.type!=`function`&&(o.__u|=4))):S[a]=null;if(y){for(u=[],f=[],a=0;a<i;a++)if((o=S[a])&&16&o.__u){for(v=0,p=u.length;v<p;)u[m=v+p>>1]<o.__i?v=m+1:p=m;u[v]=o.__i,f[a]=v+1}for(v=u.length;a--;)f[a]&&(f[a]==v?v--:S[a].__u|=4)}if(_)for(a=0;a<g;a++)!(s=n[a])||2&s.__u||(s.__e==r&&(r=C(s)),I(s,s));return r}function A(e,t,n,r){var i,a,o,s;if(typeof e.type==`function`){if(e.props.__P)return t;if(i=e.__k)for(a=0;a<i.length;a++)i[a]&&(i[a].__=e,t=A(i[a],t,n,!1));return t}for(t&&!t.parentNode&&(t=C(e))&&!t.parentNode&&(t=null),o=e.__e,s=t;s&&s.nodeType==8;)s=s.nextSibling;for(o!=s&&(!r&&n.moveBefore&&o.parentNode?n.moveBefore(o,t):n.insertBefore(o,t||null)),t=o;(t&&=t.nextSibling)&&t.nodeType==8&&!t.data.startsWith(`$s`););return t}function j(e,t,n,r){var i,a=e.key,o=e.type,s=t[n],c=s&&!(2&s.__u);if(s===null&&a==null||c&&a==s.key&&o==s.type)return n;if(r>+!!c){for(i=n-1;i>=0;i--)if((s=t[i])&&!(2&s.__u)&&a==s.key&&o==s.type)return i;for(i=n+1;i<t.length;i++)if((s=t[i])&&!(2&s.__u)&&a==s.key&&o==s.type)return i}return-1}function M(e,t,n){n??=``,t[0]==`-`?e.setProperty(t,n):e[t]=n}function N(e,t,n,r,i){var a,o;if(t==`style`){if(typeof n==`string`)e.style.cssText=n;else{if(typeof r==`string`&&(e.style.cssText=r=``),r)for(t in r)n&&t in n||M(e.style,t);if(n)for(t in n)r&&n[t]==r[t]||M(e.style,t,n[t])}}else if(t[0]==`o`&&t[1]==`n`)typeof n!=`function`&&(n=null),typeof r!=`function`&&(r=null),(e.__e||={})[t]=n,n&&r||(o=u[t]||(u[t]=ee(t)),(e.__a||={})[t]=l,a=t!=(t=t.replace(c,`$1`)),(t=t.slice(2))[0]<`a`&&(t=t.toLowerCase()),n?e.addEventListener(t,o,a):e.removeEventListener(t,o,a));else{if(i==`http://www.w3.org/2000/svg`)t=t.replace(/xlink(H|:h)/,`h`).replace(/sName$/,`s`);else if(t!=`width`&&t!=`height`&&t!=`href`&&t!=`list`&&t!=`form`&&t!=`tabIndex`&&t!=`download`&&t!=`rowSpan`&&t!=`colSpan`&&t!=`role`&&t!=`popover`&&t in e)try{e[t]=n??``;return}catch{}if(typeof n==`function`)return;n==null||!1===n&&t[4]!=`-`?e.removeAttribute(t):e.setAttribute(t,t==`popover`&&n==1?``:n)}}function ee(t){return function(n){var r=this.__e;if(r){if(r=r[t],n[s]==null)n[s]=l++;else if(n[s]<this.__a[t])return;return r(e.event?e.event(n):n)}}}function te(t,n,r,i,a,o,s,c,l,u){var f,m,g,y,b,w,T,E,D,k,A,j,M,N,ee,te,P,ie,L=n.type;if(n.constructor!==d)return null;128&r.__u&&(l=32&r.__u,f=r.__c.__z)&&(n.__u|=l,m=o=[],f.nodeType==8?c=ne(f,o):o.push(f),c=o[0]||c),(f=e.__b)&&f(n);n:if(typeof L==`function`){g=s.length;try{if(E=n.props,D=(f=L.prototype)&&f.render,k=(f=L.contextType)&&i[f.__c],A=f?k?k.props.value:f.__:i,(y=r.__c)?(n.__c=y,2&y.__g&&(y.__g|=1)):(D?n.__c=y=new L(E,A):(n.__c=y=new S(E,A),y.constructor=L,y.render=ae),k&&k.sub(y),y.state||(y.state={}),y.__n=i,y.__g|=8,y.__h=[],y.__k=[]),D&&(y.__s||(y.__s=y.state),L.getDerivedStateFromProps&&(y.__s==y.state&&(y.__s=_({},y.__s)),_(y.__s,L.getDerivedStateFromProps(E,y.__s)))),b=y.props,w=y.state,y.__v=n,r.__c){if(E!==b&&D&&!L.getDerivedStateFromProps&&y.componentWillReceiveProps&&y.componentWillReceiveProps(E,A),n.__v==r.__v&&!(8&y.__g)||!(4&y.__g)&&y.shouldComponentUpdate&&!1===y.shouldComponentUpdate(E,y.__s,A)){n.__v!=r.__v&&(y.props=E,y.state=y.__s,y.__g&=-9),n.__e=r.__e,n.__k=r.__k,n.__k.some(function(e){e&&(e.__=n)}),p.push.apply(y.__h,y.__k),y.__k=[],y.__h.length&&s.push(y),c=C(r);break n}y.componentWillUpdate&&y.componentWillUpdate(E,y.__s,A),D&&y.componentDidUpdate&&y.__h.push(function(){y.componentDidUpdate(b,w,T)})}else D&&!L.getDerivedStateFromProps&&y.componentWillMount&&y.componentWillMount(),D&&y.componentDidMount&&y.__h.push(y.componentDidMount);y.context=A,y.props=E,y.__P=t,y.__g&=-5,j=e.__r,M=D?25:0;do y.__g&=-9,j&&j(n),f=y.render(y.props,y.state=y.__s,y.context);while(8&y.__g&&++M<25);D&&(p.push.apply(y.__h,y.__k),y.__k=[]),y.state=y.__s,y.getChildContext&&(i=_({},i,y.getChildContext())),D&&r.__c&&y.getSnapshotBeforeUpdate&&(T=y.getSnapshotBeforeUpdate(b,w)),N=f&&f.type===x&&f.key==null?f.props.children:f,E.__P&&(f=c,a=(t=E.__P).namespaceURI,l=o=null,r.props&&r.props.__P!=t&&(r.__k.some(function(e){e&&I(e,e)}),r.__k=null),c=r.__k?C(r,0):null),c=O(t,h(N)?N:[N],n,r,i,a,o,s,c,l,u),E.__P&&(n.__e=null,c=f),n.__u&=-161,m&&m.some(v),y.__h.length&&s.push(y),1&y.__g&&(y.__g&=-4)}catch(t){if(s.length=g,n.__v=null,l||o){if(t&&t.then){if(n.__u|=128|l,o){for(~(P=o.indexOf(c||void 0))||(P=o.length);(ie=o[P-1])&&ie.nodeType==8;)P--;for(;P<o.length;P++)if(ie=o[P]){if(o[P]=null,ee){if(ie==te)break}else{if(ie.nodeType!=8)break;ie.data.startsWith(`$s`)&&(te=ne(ee=ie))}}}if(!ee){for(;c&&c.nodeType==8&&c.nextSibling;)c=c.nextSibling;ee=c}(f=ne(ee=n.__c.__z||(n.__c.__z=ee)))?(n.__e=ee,c=f):n.__e=c,c&&=c.nextSibling}else o&&o.some(v)}else n.__e=r.__e;n.__k||=r.__k||[],t&&t.then||re(n),e.__e(t,n,r)}}else c=n.__e=F(r.__e,n,r,i,a,o,s,l,u,t);return(f=e.diffed)&&f(n),c}function ne(e,t){if(e&&e.nodeType==8&&e.data.startsWith(`$s`))for(var n=1;e=e.nextSibling;){if(e.nodeType==8){if(e.data.startsWith(`$s`))n++;else if(e.data.startsWith(`/$s`)&&!--n)return e}t&&t.push(e)}}function re(e){e&&(e.__c&&(e.__c.__g|=4),e.__k&&e.__k.some(re))}function P(t,n,r){for(var i=0;i<r.length;)ie(r[i++],r[i++],r[i++]);e.__c&&e.__c(n,t),t.some(function(n){try{t=n.__h,n.__h=[],t.some(function(e){e.call(n)})}catch(t){e.__e(t,n.__v)}})}function F(t,n,r,i,a,o,s,c,l,u){var d,p,_,y,b,x,S,w,T=r.props||f,E=n.props,D=n.type;if(D==`svg`?a=`http://www.w3.org/2000/svg`:D==`math`?a=`http://www.w3.org/1998/Math/MathML`:a||=`http://www.w3.org/1999/xhtml`,o){for(d=0;d<o.length;d++)if((b=o[d])&&(D?b.localName==D:b.nodeType==3)){t=b,o[d]=null;break}}if(!t){if(w=u.ownerDocument||document,!D)return w.createTextNode(E);t=w.createElementNS(a,D,E.is?E:u),c&&=(e.__m&&e.__m(n,o),!1),o=null}if(D){if(u=D==`template`&&t.content||t,o=D==`textarea`&&E.defaultValue!=null?null:o&&g.call(u.childNodes),!c&&o)for(T={},d=0;d<t.attributes.length;d++)T[(b=t.attributes[d]).name]=b.value;for(d in T)b=T[d],d==`dangerouslySetInnerHTML`?_=b:d==`children`||d in E||d==`value`&&`defaultValue`in E||d==`checked`&&`defaultChecked`in E||N(t,d,null,b,a);for(d in E)b=E[d],d==`children`?y=b:d==`dangerouslySetInnerHTML`?p=b:d==`value`?x=b:d==`checked`?S=b:c&&typeof b!=`function`||T[d]===b||N(t,d,b,T[d],a);p?(c||_&&(p.__html==_.__html||p.__html==t.innerHTML)||(t.innerHTML=p.__html),n.__k=[]):(_&&(t.textContent=``),(D==`foreignObject`||a==`http://www.w3.org/1998/Math/MathML`&&m.test(D))&&(a=`http://www.w3.org/1999/xhtml`),O(u,h(y)?y:[y],n,r,i,a,o,s,o?o[0]:r.__k&&C(r,0),c,l),o&&o.some(v)),c&&D!=`textarea`||(d=`value`,D==`progress`&&x==null?t.removeAttribute(d):x==null||x===t[d]&&(D!=`progress`||x)||N(t,d,x,T[d],a),d=`checked`,S!=null&&S!=t[d]&&N(t,d,S,T[d],a))}else T===E||c&&t.data==E||(t.data=E);return t}function ie(t,n,r,i){try{typeof t==`function`?n?n.__x=t(n)||1:(i&&=i.__c||i.__e)&&(n=i.__x)&&(i.__x=null,typeof n==`function`?n():t(null)):t.current=n}catch(t){e.__e(t,r)}}function I(t,n,r){var i,a,o,s;if(e.unmount&&e.unmount(t),!(i=t.ref)||i.current&&i.current!=t.__e||ie(i,null,n,t),i=t.__c){if(i.componentWillUnmount)try{i.componentWillUnmount()}catch(t){e.__e(t,n)}i.__P=i.__n=null}if(i=t.__k)for(s=0;s<i.length;s++)i[s]&&I(i[s],n,typeof t.type!=`function`||r&&!t.props.__P);!r&&(i=t.__c)&&(i=i.__z)&&(a=ne(i,o=[]))&&(i==t.__e&&o.some(v),v(a),v(i)),r||v(t.__e),t.__e=t.__c=t.__=null}function ae(e,t,n){return this.constructor(e,n)}function L(t,n){var r,i,a,o;e.__&&e.__(t,n),n.nodeType==9&&(n=n.documentElement),i=(r=t&&32&t.__u)?null:n.__k,n.__k=b(x,{children:[t]}),a=[],o=[],te(n,n.__k,i||f,f,n.namespaceURI,i?null:n.firstChild?g.call(n.childNodes):null,a,i?i.__e:n.firstChild,r,o),P(a,n.__k,o),n.__k.props.children=null}e={__e:function(e,t,n,r){for(var i,o,s;t=t.__;)if((i=t.__c)&&!(1&i.__g)){i.__g|=4;try{if((s=(o=i.constructor)&&o.getDerivedStateFromError)&&i.setState(o.getDerivedStateFromError(e)),i.componentDidCatch&&(i.componentDidCatch(e,r||{}),s=1),s&&8&i.__g)return void(i.__g|=2)}catch(t){e=t}}throw a=0,e}},t=0,n=function(e){return e!=null&&e.constructor===d},S.prototype.setState=function(e,t){var n=this.__s;n&&n!=this.state||(n=this.__s=_({},this.state)),typeof e==`function`&&(e=e(_({},n),this.props)),e&&(_(n,e),this.__v&&(t&&this.__k.push(t),E(this)))},S.prototype.forceUpdate=function(e){this.__v&&(this.__g|=4,e&&this.__h.push(e),E(this))},S.prototype.render=x,r=[],a=0,o=function(e,t){return e.__v.__b-t.__v.__b},s=Symbol(),c=/(PointerCapture)$|Capture$/i,l=0,u={};var oe,R,se,ce,le=Object.is,ue=0,de=[],fe=[],pe=e,me=pe.__b,he=pe.__r,ge=pe.diffed,_e=pe.__c,ve=pe.unmount,ye=pe.__;function z(e,t){pe.__h&&pe.__h(R,e,ue||t),ue=0;var n=R.__H||(R.__H={__:[],__h:[]});return e>=n.__.length&&n.__.push({}),n.__[e]}function B(e,t){var n=z(oe++,3);!pe.__s&&Ee(n.__H,t)&&(n.__P=!0,n.__=e,n.u=t,R.__H.__h.push(n))}function V(e){return ue=5,be(function(){return{current:e}},[])}function be(e,t){var n=z(oe++,7);return Ee(n.__H,t)&&(n.__=e(),n.__H=t),n.__}function H(){var e=z(oe++,11);if(!e.__){for(var t=R.__v;!t.__m&&t.__;)t=t.__;var n=t.__m||(t.__m=[0,0]);e.__=`P`+n[0]+`-`+n[1]++}return e.__}function xe(){var e;do{for(;e=fe.shift();)try{we(e)}catch(t){pe.__e(t,{__:(e=e.__P)&&e.__v})}for(;e=de.shift();){var t=e.__H;if(e.__P&&t)try{t.__h.some(we),t.__h.some(Te),t.__h=[]}catch(n){t.__h=[],pe.__e(n,e.__v)}}}while(fe.length)}pe.__b=function(e){R=null,me&&me(e)},pe.__=function(e,t){e&&t.__k&&t.__k.__m&&(e.__m=t.__k.__m),ye&&ye(e,t)},pe.__r=function(e){he&&he(e),oe=0;var t=(R=e.__c).__H;t&&(se==R?R.__h=[]:(t.__h.some(we),t.__h.some(Te),oe=0),t.__h=[],t.__.some(function(e){e.__N&&(e.__=e.__N),e.u=e.__N=void 0})),se=R},pe.diffed=function(e){ge&&ge(e);var t=e.__c;t&&t.__H&&(t.__H.__h.length&&Ce(de.push(t)),t.__H.__.some(function(e){e.u&&(e.__H=e.u)})),se=R=null},pe.__c=function(e,t){t.some(function(e){try{e.__h.some(we),e.__h=e.__h.filter(function(e){return!e.__||Te(e)})}catch(t){e.__h=[function(){throw t}]}}),_e&&_e(e,t)},pe.unmount=function(e){ve&&ve(e);var t,n,r=e.__c;r&&r.__H&&(r.__H.__.some(function(r){try{if(r.__P&&r.__c){if(n===void 0){for(n=e.__;n&&(!n.__c||!n.__c.__P);)n=n.__;n&&=n.__c}r.__P=n,Ce(fe.push(r))}else we(r)}catch(e){t=e}}),r.__H=void 0,t&&pe.__e(t,r.__v))};var U=typeof requestAnimationFrame==`function`;function Se(e){var t,n=function(){clearTimeout(r),U&&cancelAnimationFrame(t),setTimeout(e)},r=setTimeout(n,35);U&&(t=requestAnimationFrame(n))}function Ce(e){e!=1&&ce==pe.requestAnimationFrame||((ce=pe.requestAnimationFrame)||Se)(xe)}function we(e){var t=R,n=e.__c;typeof n==`function`&&(e.__c=void 0,n()),R=t}function Te(e){var t=R;e.__c=e.__(),R=t}function Ee(e,t){return!e||e.length!=t.length||t.some(function(t,n){return!le(t,e[n])})}var De=Symbol.for(`preact-signals`);function Oe(){if(Ne>1)Ne--;else{var e,t=!1;for((function(){var e=Le;for(Le=void 0;e!==void 0;){var t=e.S;if(t.v===e.v)for(var n=t.t;n!==void 0;n=n.x)n.i===e.i&&(n.i=t.i);e=e.o}})();Me!==void 0;){var n=Me;for(Me=void 0,Pe++;n!==void 0;){var r=n.u;if(n.u=void 0,n.f&=-3,!(8&n.f)&&Be(n))try{n.c()}catch(n){t||=(e=n,!0)}n=r}}if(Pe=0,Ne--,t)throw e}}function ke(e){if(Ne>0)return e();Ie=++Fe,Ne++;try{return e()}finally{Oe()}}var Ae,W=void 0;function je(e){var t=W,n=Ae;W=void 0,Ae=void 0;try{return e()}finally{W=t,Ae=n}}var Me=void 0,Ne=0,Pe=0,Fe=0,Ie=0,Le=void 0,Re=0;function ze(e){if(W!==void 0){var t=e.n;if(t===void 0||t.t!==W)return t={i:0,S:e,p:W.s,n:void 0,t:W,e:void 0,x:void 0,r:t},W.s!==void 0&&(W.s.n=t),W.s=t,e.n=t,32&W.f&&e.S(t),t;if(t.i===-1)return t.i=0,t.n!==void 0&&(t.n.p=t.p,t.p!==void 0&&(t.p.n=t.n),t.p=W.s,t.n=void 0,W.s.n=t,W.s=t),t}}function G(e,t){this.v=e,this.i=0,this.n=void 0,this.t=void 0,this.l=0,this.W=t?.watched,this.Z=t?.unwatched,this.name=t?.name}G.prototype.brand=De,G.prototype.h=function(){return!0},G.prototype.S=function(e){var t=this,n=this.t;n!==e&&e.e===void 0&&(e.x=n,this.t=e,n===void 0?je(function(){var e;(e=t.W)==null||e.call(t)}):n.e=e)},G.prototype.U=function(e){var t=this;if(this.t!==void 0){var n=e.e,r=e.x;n!==void 0&&(n.x=r,e.e=void 0),r!==void 0&&(r.e=n,e.x=void 0),e===this.t&&(this.t=r,r===void 0&&je(function(){var e;(e=t.Z)==null||e.call(t)}))}},G.prototype.subscribe=function(e){var t=this;return Ye(function(){var n=t.value;je(function(){return e(n)})},{name:`sub`})},G.prototype.valueOf=function(){return this.value},G.prototype.toString=function(){return this.value+``},G.prototype.toJSON=function(){return this.value},G.prototype.peek=function(){var e=this;return je(function(){return e.value})},Object.defineProperty(G.prototype,"value",{get:function(){var e=ze(this);return e!==void 0&&(e.i=this.i),this.v},set:function(e){if(e!==this.v){if(Pe>100)throw Error(`Cycle detected`);(function(e){Ne!==0&&Pe===0&&e.l!==Ie&&(e.l=Ie,Le={S:e,v:e.v,i:e.i,o:Le})})(this),this.v=e,this.i++,Re++,Ne++;try{for(var t=this.t;t!==void 0;t=t.x)t.t.N()}finally{Oe()}}}});function K(e,t){return new G(e,t)}function Be(e){for(var t=e.s;t!==void 0;t=t.n)if(t.S.i!==t.i||!t.S.h()||t.S.i!==t.i)return!0;return!1}function Ve(e){for(var t=e.s;t!==void 0;t=t.n){var n=t.S.n;if(n!==void 0&&(t.r=n),t.S.n=t,t.i=-1,t.n===void 0){e.s=t;break}}}function He(e){for(var t=e.s,n=void 0;t!==void 0;){var r=t.p;t.i===-1?(t.S.U(t),r!==void 0&&(r.n=t.n),t.n!==void 0&&(t.n.p=r)):n=t,t.S.n=t.r,t.r!==void 0&&(t.r=void 0),t=r}e.s=n}function Ue(e,t){G.call(this,void 0,t),this.x=e,this.s=void 0,this.g=Re-1,this.f=4}Ue.prototype=new G,Ue.prototype.h=function(){if(this.f&=-3,1&this.f)return!1;if((36&this.f)==32||(this.f&=-5,this.g===Re))return!0;if(this.g=Re,this.f|=1,this.i>0&&!Be(this))return this.f&=-2,!0;var e=W;try{Ve(this),W=this;var t=this.x();(16&this.f||this.v!==t||this.i===0)&&(this.v=t,this.f&=-17,this.i++)}catch(e){this.v=e,this.f|=16,this.i++}return W=e,He(this),this.f&=-2,!0},Ue.prototype.S=function(e){if(this.t===void 0){this.f|=36;for(var t=this.s;t!==void 0;t=t.n)t.S.S(t)}G.prototype.S.call(this,e)},Ue.prototype.U=function(e){if(this.t!==void 0&&(G.prototype.U.call(this,e),this.t===void 0)){this.f&=-33;for(var t=this.s;t!==void 0;t=t.n)t.S.U(t)}},Ue.prototype.N=function(){if(!(2&this.f)){this.f|=6;for(var e=this.t;e!==void 0;e=e.x)e.t.N()}},Object.defineProperty(Ue.prototype,"value",{get:function(){if(1&this.f)throw Error(`Cycle detected`);var e=ze(this);if(this.h(),e!==void 0&&(e.i=this.i),16&this.f)throw this.v;return this.v}});function We(e,t){return new Ue(e,t)}function Ge(e){var t=e.j;if(e.j=void 0,typeof t==`function`){Ne++;var n=W;W=void 0;try{t()}catch(t){throw e.f&=-2,e.f|=8,Ke(e),t}finally{W=n,Oe()}}}function Ke(e){for(var t=e.s;t!==void 0;t=t.n)t.S.U(t);e.x=void 0,e.s=void 0,Ge(e)}function qe(e){if(W!==this)throw Error(`Out-of-order effect`);He(this),W=e,this.f&=-2;try{8&this.f&&Ke(this)}finally{Oe()}}function Je(e,t){this.x=e,this.j=void 0,this.s=void 0,this.u=void 0,this.f=32,this.name=t?.name,Ae&&Ae.push(this)}Je.prototype.c=function(){var e=this.S();try{if(8&this.f||this.x===void 0)return;var t=this.x();typeof t==`function`&&(this.j=t)}finally{e()}},Je.prototype.S=function(){if(1&this.f)throw Error(`Cycle detected`);this.f|=1,this.f&=-9,Ge(this),Ve(this),Ne++;var e=W;return W=this,qe.bind(this,e)},Je.prototype.N=function(){2&this.f||(this.f|=2,this.u=Me,Me=this)},Je.prototype.d=function(){this.f|=8,1&this.f||Ke(this)},Je.prototype.dispose=function(){this.d()};function Ye(e,t){var n=new Je(e,t);try{n.c()}catch(e){throw n.d(),e}var r=n.d.bind(n);return r[Symbol.dispose]=r,r}var Xe,Ze,Qe,$e=typeof window<`u`&&!!window.__PREACT_SIGNALS_DEVTOOLS__,et=[],tt=[];Ye(function(){Xe=this.N})();function nt(t,n){e[t]=n.bind(null,e[t]||function(){})}function rt(e){if(Qe){var t=Qe;Qe=void 0,t()}Qe=e&&e.S()}function it(e){var t=this,r=e.data,i=ot(r);i.name=`ReactiveDom`,i.value=r;var a=be(function(){for(var e=t,r=t.__v;r=r.__;)if(r.__c){r.__c.__$f|=4;break}var a=We(function(){var e=i.value.value;return e===0?0:!0===e?``:e||``}),o=We(function(){return!Array.isArray(a.value)&&!n(a.value)}),s=Ye(function(){if(this.N=pt,o.value){var t=a.value;e.__v&&e.__v.__e&&e.__v.__e.nodeType===3&&(e.__v.__e.data=t)}}),c=t.__$u.d;return t.__$u.d=function(){s(),c.call(this)},[o,a]},[]),o=a[0],s=a[1];return o.value?s.peek():s.value}it.displayName=`ReactiveTextNode`,Object.defineProperties(G.prototype,{constructor:{configurable:!0,value:y(x,null).constructor},type:{configurable:!0,value:it},props:{configurable:!0,get:function(){var e=this;return{data:{get value(){return e.value}}}}},__b:{configurable:!0,value:1}}),nt(`__b`,function(e,t){if(rt(),Ze=void 0,typeof t.type==`string`){var n,r=t.props;for(var i in r)if(i!==`children`){var a=r[i];a instanceof G&&(n||(t.__np=n={}),n[i]=a,r[i]=a.peek())}}e(t)}),nt(`__r`,function(e,t){if(e(t),t.type!==x){rt();var n,r=t.__c;r&&(r.__$f&=-2,(n=r.__$u)===void 0&&(r.__$u=n=function(e,t){var n;return Ye(function(){n=this},{name:t}),n.c=e,n}(function(e){return function(){var t;$e&&((t=this.y)==null||t.call(this)),e.__$f|=1,e.setState({})}}(r),typeof t.type==`function`?t.type.displayName||t.type.name:``))),Ze=r,rt(n)}}),nt(`__e`,function(e,t,n,r){rt(),Ze=void 0,e(t,n,r)}),nt(`diffed`,function(e,t){rt(),Ze=void 0;var n;if(typeof t.type==`string`&&(n=t.__e)){var r=t.__np,i=t.props,a=n.U;if(a)for(var o in a){var s=a[o];s===void 0||r&&o in r||(s.d(),a[o]=void 0)}if(r)for(var c in a||(a={},n.U=a),r){var l=a[c],u=r[c];l===void 0?(l=at(n,c,u,i),a[c]=l):l.o(u,i)}}e(t)});function at(e,t,n,r){var i=t in e&&e.ownerSVGElement===void 0,a=K(n);return{o:function(e,t){a.value=e,r=t},d:Ye(function(){this.N=pt;var n=a.value.value;r[t]!==n&&(r[t]=n,i?e[t]=n:n!=null&&(!1!==n||t[4]===`-`)?e.setAttribute(t,n):e.removeAttribute(t))})}}nt(`unmount`,function(e,t){if(typeof t.type==`string`){var n=t.__e;if(n){var r=n.U;if(r)for(var i in n.U=void 0,r){var a=r[i];a&&a.d()}}var o=t.__np;if(o){var s=t.props;for(var c in o)s[c]=o[c]}t.__np=void 0}else{var l=t.__c;if(l){l.__$f|=8;var u=l.__$u;u&&(l.__$u=void 0,u.d())}}e(t)}),nt(`__h`,function(e,t,n,r){r<3&&(t.__$f|=2),e(t,n,r)}),S.prototype.shouldComponentUpdate=function(e,t){if(this.__R)return!0;var n=this.__$u,r=n&&n.s!==void 0;for(var i in t)return!0;if(this.__f||typeof this.u==`boolean`&&!0===this.u){var a=2&this.__$f;if(!(r||a||4&this.__$f)||1&this.__$f)return!0}else if(!(r||4&this.__$f)||3&this.__$f)return!0;for(var o in e)if(o!==`__source`&&e[o]!==this.props[o])return!0;for(var s in this.props)if(!(s in e))return!0;return!1};function ot(e,t){return be(function(){return K(e,t)},[])}function st(e,t){var n=V(e);return n.current=e,Ze.__$f|=4,be(function(){return We(function(){return n.current()},t)},[])}var ct=typeof requestAnimationFrame>`u`?setTimeout:function(e){var t=function(){clearTimeout(n),cancelAnimationFrame(r),e()},n=setTimeout(t,35),r=requestAnimationFrame(t)},lt=function(e){queueMicrotask(function(){queueMicrotask(e)})};function ut(){ke(function(){for(var e;e=et.shift();)Xe.call(e)})}function dt(){et.push(this)===1&&(e.requestAnimationFrame||ct)(ut)}function ft(){ke(function(){for(var e;e=tt.shift();)Xe.call(e)})}function pt(){tt.push(this)===1&&(e.requestAnimationFrame||lt)(ft)}function mt(e,t){var n=V(e);n.current=e;var r=Ze;B(function(){return Ye(function(){if(this.N=dt,!(r&&8&r.__$f))return n.current()},t)},[])}var ht=class extends Error{status;problems;file;constructor(e,t,n){super(t.map(e=>(e.key?`${e.key}: `:``)+e.what+(e.hint?` (${e.hint})`:``)).join(`; `)),this.status=e,this.problems=t,this.file=n}},gt=K(!1),_t=(()=>{let e=new URLSearchParams(location.hash.slice(1)).get(`token`);return e&&(sessionStorage.setItem(`token`,e),history.replaceState(null,``,location.pathname)),e??sessionStorage.getItem(`token`)})();async function vt(e,t,n,r){let i={};n!==void 0&&(i[`Content-Type`]=`application/json`),_t&&(i.Authorization=`Bearer ${_t}`);let a;try{a=await fetch(t,{method:e,headers:i,body:n===void 0?void 0:JSON.stringify(n),signal:r})}catch(e){throw r?.aborted||(gt.value=!0),e}if(gt.value=!1,!a.ok){let e=await a.json().catch(()=>null);throw new ht(a.status,e?.problems??[{what:`the server answers ${a.status}`}],e?.file)}return a}async function yt(e,t,n,r){return(await vt(e,t,n,r)).json()}async function bt(e,t,n,r){let i=(await vt(`POST`,e,t,n)).body.pipeThrough(new TextDecoderStream).getReader(),a=``;try{for(;;){let{value:e,done:t}=await i.read();if(t)break;a+=e;for(let e=a.indexOf(`

`);e>=0;e=a.indexOf(`

`)){let t=a.slice(0,e).split(`
`);a=a.slice(e+2);let n=t[0].replace(`event: `,``),i=JSON.parse(t[1].slice(6));if(n===`answer`)return i;if(n===`refusal`)throw new ht(422,i.problems);r(n,i)}}}catch(e){throw!n.aborted&&!(e instanceof ht)&&(gt.value=!0),e}throw new ht(0,[{what:`the answer broke off`,hint:`is polewright serve still running?`}])}function xt(e){return e instanceof DOMException&&e.name===`AbortError`}function St(e){return e instanceof ht?e.message:gt.value?`the bench's server does not answer`:e instanceof Error?e.message:String(e)}var Ct=K(null),wt=K(null),Tt=K(null),q=K(``),Et=K(null),Dt=K(`need`),Ot=K(null),kt=K(new Set),At=K(``),jt=K(`saved`),Mt=K(``),Nt=K(null),Pt=K([]),Ft=K([]),It=We(()=>Pt.value.length>0),Lt=We(()=>Ft.value.length>0),Rt={result:null,of:``,running:null,since:0,fault:``},zt=K(Rt),Bt=K(Rt),Vt=We(()=>Et.value!==null&&Et.value.problems.length===0&&!Et.value.no_parts),Ht=We(()=>Bt.value.result&&Bt.value.of===q.value?{result:Bt.value.result,accuracy:`standard`,field_only:!1}:zt.value.result&&zt.value.of===q.value?{result:zt.value.result,accuracy:`draft`,field_only:!0}:null),Ut=We(()=>Ht.value?.result??Bt.value.result??zt.value.result),Wt=We(()=>Ht.value!==null),Gt=()=>({file:Tt.value?.name??``,text:q.value}),Kt=null,qt;async function Jt(e,t,n){let r=q.value;e.value={...e.value,running:{what:`begins`,done:0},since:performance.now(),fault:``};try{let i=await bt(`/api/solve`,{...Gt(),...t},n,(t,r)=>{t===`progress`&&!n.aborted&&(e.value={...e.value,running:r})});n.aborted||(e.value={result:i,of:r,running:null,since:0,fault:``})}catch(t){if(n.aborted||xt(t))return;e.value={...e.value,running:null,fault:St(t)}}}function Yt(e=700){if(Xt(),!Vt.value)return;let t=Kt=new AbortController;Jt(zt,{accuracy:`draft`,field_only:!0},t.signal).then(()=>{t.signal.aborted||zt.value.fault||(qt=setTimeout(()=>void Jt(Bt,{accuracy:`standard`,field_only:!1},t.signal),e))})}function Xt(){clearTimeout(qt),Kt?.abort();for(let e of[zt,Bt])e.value.running&&(e.value={...e.value,running:null})}var Zt=null;function Qt(e,t){e.text===q.value&&Et.value?Et.value=e:(t&&Et.value&&(Pt.value=[...Pt.value.slice(-200),q.value],Ft.value=[]),ke(()=>{q.value=e.text,Et.value=e,nn?zt.value.running||on():Yt(),Ot.value&&!e.parts.some(e=>e.name===Ot.value)&&e.parts.length&&(Ot.value=null)}),hn())}var $t=K(!1);async function en(e,t){Zt?.abort();let n=Zt=new AbortController;$t.value=!0,Xt();try{let r=await yt(`POST`,`/api/look`,e,n.signal);if(r.refused)throw new ht(422,r.refused);Qt(r,t)}finally{Zt===n&&($t.value=!1,!gt.value&&!zt.value.running&&Ht.value?.accuracy!==`standard`&&Yt(0))}}var tn=(...e)=>en({...Gt(),changes:e},!0),nn=!1;async function rn(e,...t){nn=!0;let n=await yt(`POST`,`/api/look`,{...Gt(),changes:t});if(n.refused)throw new ht(422,n.refused);Qt(n,e)}function an(){nn=!1,zt.value.of===q.value?Bt.value.of!==q.value&&Yt(0):Yt()}function on(){if(!Vt.value)return;Xt();let e=Kt=new AbortController;Jt(zt,{accuracy:`draft`,field_only:!0},e.signal).then(()=>{nn&&!e.signal.aborted&&!zt.value.fault&&zt.value.of!==q.value&&on()})}var sn=(e,t=!0)=>en({...Gt(),text:e},t);async function cn(e,t,n){let r=e.value.at(-1);if(r===void 0)return;let i=q.value;await sn(r,!1),e.value=e.value.slice(0,-1),t.value=[...t.value,i],At.value=n}var ln=Promise.resolve(),un=e=>ln=ln.then(e).catch(()=>{}),dn=()=>un(()=>cn(Pt,Ft,`undone`)),fn=()=>un(()=>cn(Ft,Pt,`done again`)),pn,mn=e=>`unsaved:${e}`;function hn(){let e=Tt.value;if(!e||q.value===e.saved)e&&(jt.value=`saved`);else{jt.value=`unsaved`;try{localStorage.setItem(mn(e.name),JSON.stringify({text:q.value,base:e.version}))}catch{}clearTimeout(pn),pn=setTimeout(()=>void _n(),500)}}var gn=!1;async function _n(e){let t=Tt.value;if(!(!t||Nt.value||gn)){gn=!0;try{await vn(t,e)}finally{gn=!1}Tt.value&&q.value!==Tt.value.saved&&jt.value!==`failed`&&hn()}}async function vn(e,t){let n=q.value;jt.value=`saving`;try{let{version:r}=await yt(`PUT`,`/api/files/${encodeURIComponent(e.name)}`,{text:n,base:t??e.version});if(Tt.value?.name!==e.name)return;Tt.value={name:e.name,version:r,saved:n},localStorage.removeItem(mn(e.name)),Mt.value=``,jt.value=q.value===n?`saved`:`unsaved`}catch(e){jt.value=`failed`,Mt.value=St(e),e instanceof ht&&e.status===409&&e.file&&(Nt.value=e.file)}}async function yn(e){let t=Nt.value;t&&Tt.value&&(Nt.value=null,e===`mine`?(Tt.value={...Tt.value,version:t.version},await _n()):e===`theirs`?(Tt.value={name:t.name,version:t.version,saved:t.text},await sn(t.text)):(Tt.value={name:e,version:``,saved:``},location.hash=encodeURIComponent(e),await _n(``)))}async function bn(){wt.value=await yt(`GET`,`/api/files`)}function xn(e,t,n){Xt(),Pt.value=[],Ft.value=[],Et.value=null,q.value=``,zt.value=Rt,Bt.value=Rt,Ot.value=null,kt.value=new Set,Nt.value=null,Mt.value=``,jt.value=`saved`,Tt.value={name:e,version:t,saved:n},history.replaceState(null,``,`#${encodeURIComponent(e)}`)}async function Sn(e){let t=await yt(`GET`,`/api/files/${encodeURIComponent(e)}`);xn(t.name,t.version,t.text),await sn(t.text,!1);let n=localStorage.getItem(mn(e));if(!n)return;let r=JSON.parse(n);r.base===t.version&&r.text!==t.text?(await sn(r.text),At.value=`Changes that were not saved last time are back; undo takes them away.`):localStorage.removeItem(mn(e))}async function Cn(e,t){let{version:n}=await yt(`PUT`,`/api/files/${encodeURIComponent(e)}`,{text:t,base:``});xn(e,n,t),await sn(t,!1)}async function wn(){if(Xt(),Tt.value&&q.value!==Tt.value.saved){if(await _n(),Nt.value)return;q.value!==Tt.value.saved&&(At.value=`Not saved: this browser keeps the changes until the file is opened again.`)}Tt.value=null,Et.value=null,history.replaceState(null,``,location.pathname),bn()}async function Tn(){let e=Tt.value;if(!(!e||gt.value||Nt.value||jt.value===`saving`))try{let t=await yt(`GET`,`/api/files/${encodeURIComponent(e.name)}`);if(t.version===Tt.value?.version||Tt.value?.name!==e.name)return;q.value===e.saved?(Tt.value={name:e.name,version:t.version,saved:t.text},await sn(t.text),At.value=`${e.name} was changed elsewhere; this is the new text.`):Nt.value=t}catch{}}var En=!1;Ye(()=>{gt.value?(En=!0,setTimeout(async()=>{for(;gt.value;)await yt(`GET`,`/api/files`).catch(()=>new Promise(e=>setTimeout(e,2e3)))},1500)):En&&(En=!1,Tt.value&&q.value!==Tt.value.saved&&_n(),Vt.value&&!Ht.value&&Yt())});var Dn=We(()=>Et.value?.problems??[]);function On(){let e=K({answer:null,of:``,running:null,fault:``}),t=null;return{state:e,async run(n,r,i){t?.abort();let a=t=new AbortController,o=q.value;e.value={...e.value,running:{what:`begins`,done:0},fault:``};try{let t=await bt(n,r,a.signal,(t,n)=>{a.signal.aborted||(t===`progress`?e.value={...e.value,running:n}:i?.(t,n))});return a.signal.aborted||(e.value={answer:t,of:o,running:null,fault:``}),a.signal.aborted?null:t}catch(t){return a.signal.aborted||(e.value={...e.value,running:null,fault:St(t)}),null}},cancel(){t?.abort(),e.value={...e.value,running:null}}}}function kn(e,t,n){let r=``;return()=>Ye(()=>{let i=$t.value?``:t();if(i!==r){if(i)je(n);else if(e.state.peek().running)e.cancel();else return;r=i}})}var An=K(localStorage.getItem(`inches`)===`yes`);function jn(e){An.value=e,localStorage.setItem(`inches`,e?`yes`:`no`)}var Mn=()=>An.value?`in`:`mm`,Nn=()=>An.value?1/.0254:1e3;function J(e,t){if(e===0||!Number.isFinite(e))return Number.isFinite(e)?`0`:`–`;let n=Math.floor(Math.log10(Math.abs(e)));return n>6||n<-4?e.toExponential(t-1):e.toFixed(Math.max(0,t-1-n)).replace(`-`,`−`)}function Pn(e,t=4){return`${Fn(e*Nn(),t)} ${Mn()}`}function Fn(e,t){let n=J(e,t);return n.includes(`.`)&&!n.includes(`e`)?n.replace(/\.?0+$/,``):n}function In(e,t=4){return Math.abs(e)>=.01||e===0?`${J(e,t)} T`:`${J(e*1e3,t)} mT`}var Ln=e=>Math.abs(e)<1e4?`${J(e,3)} ppm`:`${J(e/1e4,3)} %`,Rn=e=>An.value?`${J(e/.45359237,3)} lb`:`${J(e,3)} kg`,zn=e=>An.value?`${J(e/4.4482216152605,3)} lbf`:`${J(e,3)} N (${J(e/9.80665,2)} kgf)`,Bn=e=>e<90?`${Math.max(1,Math.round(e))} s`:`${Math.round(e/60)} min`;function Vn(e,t,n){return t===void 0||!n||![`mm`,`in`,`cm`,`m`,`um`,`ft`].includes(n)||n===Mn()?e:`${Fn(t*Nn(),6)} ${Mn()}`}function Hn(e,t){let n=e.trim().replace(`,`,`.`).replace(`−`,`-`);return!t||!/^[-+]?[\d.]+(e[-+]?\d+)?$/i.test(n)?n:`${n} ${[`mm`,`in`,`cm`,`m`,`um`,`ft`].includes(t)?Mn():t}`}var Un=Symbol.for(`pv`),Wn=0;Array.isArray;function Y(t,n,r,i,a,o){n||={};var s,c,l=n;if(`ref`in l&&typeof t!=`function`)for(c in l={},n)c==`ref`?s=n[c]:l[c]=n[c];var u={type:t,props:l,key:r,ref:s,__k:null,__:null,__b:0,__e:null,__c:null,constructor:Un,__v:--Wn,__i:-1,__u:0};return(a||o)&&(u.__source=a,u.__self=o),e.vnode&&e.vnode(u),u}var Gn=[`mm`,`in`,`cm`,`m`,`um`,`ft`];function Kn({p:e,label:t}){let n=H(),r=ot(``),i=ot(!1),a=ot(null),o=Dn.value.find(t=>t.key===e.path||t.key?.startsWith(`${e.path}.`)||t.key&&e.path===t.key.replace(/\.(\d+)$/,``)),s=Vn(e.value,e.si,e.unit),c=qn(e),l=async t=>{let n=Hn(t,e.unit);if(n===s||n===``&&!e.given)r.value=``,a.value=null;else{i.value=!0;try{await tn({path:e.path,value:n}),r.value=``,a.value===t&&(a.value=null)}catch(e){if(e instanceof DOMException)return;r.value=e instanceof ht?e.problems.map(e=>e.what+(e.hint?`: ${e.hint}`:``)).join(`; `):St(e)}finally{i.value=!1}}},u=t=>{let n=t.currentTarget;if(t.key===`Enter`&&l(n.value),t.key===`Escape`&&(a.value=null,r.value=``),t.key!==`ArrowUp`&&t.key!==`ArrowDown`||e.kind===`text`)return;let i=/^\s*([-+−]?[\d.]+)\s*(.*)$/.exec(n.value);if(!i)return;t.preventDefault();let o=i[2]||e.unit||``,s={mm:.5,in:.02,T:.01,mT:.1,degC:1,deg:1,ppm:50,"%":.1,kg:.1,A:10}[o]??(e.kind===`number`&&Number.isInteger(+i[1])?1:.01),c=+i[1].replace(`−`,`-`)+(t.key===`ArrowUp`?1:-1)*s*(t.shiftKey?10:1);a.value=`${Fn(c,8)} ${o}`.trim().replace(`−`,`-`),l(a.value)},d=r.value||(o?o.what+(o.hint?`: ${o.hint}`:``):``),f={id:n,"aria-invalid":d?!0:void 0,"aria-describedby":d?`${n}-fault`:e.meaning?`${n}-note`:void 0};return Y(`div`,{class:`field ${e.given?``:`left-out`}`,children:[Y(`label`,{for:n,children:t}),c?Y(`select`,{...f,value:e.value,onChange:e=>void l(e.currentTarget.value),children:[!c.includes(e.value)&&Y(`option`,{value:e.value,children:e.value||`–`}),c.map(e=>Y(`option`,{value:e,children:e},e))]}):Y(`input`,{...f,type:`text`,inputMode:e.kind===`text`?`text`:`decimal`,autocomplete:`off`,spellcheck:!1,"aria-busy":i.value,value:a.value??s,onInput:e=>a.value=e.currentTarget.value,placeholder:e.unit?`not set, ${Gn.includes(e.unit)?Mn():e.unit}`:`not set`,onBlur:()=>a.value!==null&&void l(a.value),onKeyDown:u}),e.meaning&&!d&&Y(`small`,{id:`${n}-note`,children:e.meaning}),d&&Y(`small`,{id:`${n}-fault`,class:`fault`,role:`alert`,children:d})]})}function qn(e){let t=Ct.value;if(!t||e.kind!==`text`)return null;let n=e.path.slice(e.path.lastIndexOf(`.`)+1),r=e.path.slice(0,e.path.indexOf(`.`));return e.path===`layout.kind`?t.layouts.map(e=>e.kind):n===`grade`?t.grades.map(e=>e.name):n===`material`?r===`spacer`?t.plain:t.steels.map(e=>e.name):n===`axis`?[`x`,`y`,`z`]:n===`lay`?[`square`,`nested`,`random`]:e.path===`target.region.shape`?[`sphere`,`cylinder`,`box`]:null}var Jn={"target.field":`Field in the gap`,"target.uniformity":`Spread over the region`,"target.gap":`Free gap`,"target.mass":`Most mass`,"target.cost":`Most cost`,"target.stray.limit":`Stray limit`,"target.stray.distance":`kept from`,"target.temperature.working":`Working temperature`,"target.temperature.max":`Highest temperature`,"target.temperature.min":`Lowest temperature`,"target.region.shape":`Region`,"target.region.diameter":`Region's diameter`,"target.region.length":`Region's length`,"target.region.axis":`Region's axis`};function Yn(e){let t=Jn[e];if(t)return t;let n=e.split(`.`)[0],r=Et.value?.parts.map(e=>e.name).find(t=>e.startsWith(`${n}.${t}.`)),i=(r?e.slice(n.length+r.length+2):e.slice(e.indexOf(`.`)+1)).replaceAll(`_`,` `).replaceAll(`.`,` `);return i.charAt(0).toUpperCase()+i.slice(1)}var Xn=e=>(Et.value?.parameters??[]).filter(t=>e(t.path));function Zn({test:e,rest:t=!0}){let n=Xn(e),r=n.filter(e=>e.given),i=n.filter(e=>!e.given);return Y(x,{children:[Y(`div`,{class:`fields`,children:r.map(e=>Y(Kn,{p:e,label:Yn(e.path)},e.path))}),t&&i.length>0&&Y(`details`,{children:[Y(`summary`,{children:[i.length,` more that may be set`]}),Y(`div`,{class:`fields`,children:i.map(e=>Y(Kn,{p:e,label:Yn(e.path)},e.path))})]})]})}function Qn({p:e,since:t,onCancel:n,what:r}){return Y(`div`,{class:`bar`,role:`group`,"aria-label":r,children:[Y(`progress`,{max:1,value:e.done,"aria-label":r}),Y(`span`,{children:[e.what,e.seconds_left?`, about ${Bn(e.seconds_left)} left`:``]}),n&&Y(`button`,{type:`button`,onClick:n,children:`Stop`})]})}function $n({work:e,onStart:t,children:n,disabled:r}){let i=e.state.value;return Y(`div`,{class:`start`,children:[i.running?Y(Qn,{p:i.running,onCancel:e.cancel,what:`Progress`}):Y(`button`,{type:`button`,class:`main`,disabled:r,onClick:t,children:n}),i.fault&&Y(`p`,{class:`fault`,role:`alert`,children:i.fault})]})}function er({what:e,value:t,note:n,mark:r}){return Y(`tr`,{class:r??``,children:[Y(`th`,{scope:`row`,children:e}),Y(`td`,{class:`number`,children:t}),Y(`td`,{children:n})]})}var tr=K(!1),nr=K(!1),rr=()=>An.value?.0254/64:nr.value?.001:1e-4,ir=K(null);Ye(()=>{let e=Et.value;(!e||e.parts.length)&&(ir.value=e)}),Ye(()=>{Ot.value&&(tr.value=!1)});function ar(e){let t=e.region?.center_m??[0,0,0],n=e.parts.filter(e=>e.kind!==`spacer`&&e.kind!==`coil`&&[0,1].every(n=>e.bounds_m[0][n]<t[n]&&e.bounds_m[1][n]>t[n])),r=n.filter(e=>e.bounds_m[0][2]>=t[2]).sort((e,t)=>e.bounds_m[0][2]-t.bounds_m[0][2])[0],i=n.filter(e=>e.bounds_m[1][2]<=t[2]).sort((e,t)=>t.bounds_m[1][2]-e.bounds_m[1][2])[0];if(!r||!i)return null;let a=[0,1].map(e=>Math.max(r.bounds_m[0][e],i.bounds_m[0][e])),o=[0,1].map(e=>Math.min(r.bounds_m[1][e],i.bounds_m[1][e]));return[[a[0],a[1],i.bounds_m[1][2]],[o[0],o[1],r.bounds_m[0][2]]]}var or=We(()=>ir.value?ar(ir.value):null),sr=We(()=>tr.value?``:Ot.value),cr=(e,t)=>t===``?ar(e):e.parts.find(e=>e.name===t)?.bounds_m??null,lr=30,ur=K({of:``,list:[]}),dr=K(null),fr=(e,t)=>e.parameters.filter(e=>e.path.startsWith(t)&&e.si!==void 0&&e.kind===`quantity`&&[`mm`,`in`,`cm`,`m`,`um`,`ft`].includes(e.unit??``));function pr(e,t,n){let r=e.parts.find(e=>e.name===t),i=r.rotation.every((e,t)=>e.every((e,n)=>Math.abs(e-+(t===n))<1e-9)),a=(e,n)=>`${r.kind}.${t}.${e}.${`xyz`[n]}`,o=t=>e.parameters.some(e=>e.path===t&&e.si!==void 0),s=[];for(let e of[0,1,2])for(let t of[1,0])(!n||n.axis===e&&n.side===t)&&i&&o(a(`size`,e))&&o(a(`center`,e))&&s.push({axis:e,side:t,moves:[{path:a(`size`,e),rate:t?1:-1},{path:a(`center`,e),rate:.5}]});return s}async function mr(e,t){let n=`${e.parts.find(e=>e.name===t)?.kind}.${t}.`,r=fr(e,t!==``&&e.parameters.some(e=>e.path.startsWith(n))?n:`layout.`).filter(e=>e.si>0||e.given);if(t===``&&!r.length){let t=ar(e),n=(n,r)=>e.parts.find(e=>Math.abs(e.bounds_m[n][2]-r)<1e-9&&e.kind!==`spacer`&&e.bounds_m[0][0]<.5*(t[0][0]+t[1][0])&&e.bounds_m[1][0]>.5*(t[0][0]+t[1][0])),r=n(0,t[1][2]),i=n(1,t[0][2]);return[...(r?pr(e,r.name,{axis:2,side:0}):[]).map(e=>({...e,side:1})),...(i?pr(e,i.name,{axis:2,side:1}):[]).map(e=>({...e,side:0}))]}let i=t!==``&&r.some(e=>e.path.startsWith(n))?pr(e,t):[];if(i.length)return i;r=r.filter(e=>!/\.(center|rotate)\./.test(e.path));let a=cr(e,t),o=e.region?.center_m??[0,0,0];return a?(await Promise.all(r.map(async e=>{let n=Math.max(1e-4,.002*Math.abs(e.si));for(let r of[n,-n]){let n=await yt(`POST`,`/api/look`,{...Gt(),changes:[{path:e.path,value:`${(e.si+r)*1e3} mm`}]}),i=n.parts.length?cr(n,t):null;if(!i)continue;let s=[2,1,0].flatMap(e=>[1,0].map(t=>({axis:e,side:t,v:(i[t][e]-a[t][e])/r}))),c=e=>Math.abs(a[e.side][e.axis]-o[e.axis]),l=s.reduce((e,t)=>Math.abs(t.v)>Math.abs(e.v)+.01||Math.abs(t.v-e.v)<.01&&t.axis===e.axis&&c(t)<c(e)-1e-9?t:e);return Math.abs(l.v)<.02?null:{axis:l.axis,side:l.side,moves:[{path:e.path,rate:1/l.v}]}}return null}))).filter(e=>e!==null):[]}var hr=``;Ye(()=>{let e=ir.value,t=sr.value,n=q.value;if(dr.value)return;if(t===null||!e||e.text!==n||!cr(e,t)){t===null&&(ur.value={of:``,list:[]}),hr=``;return}let r=`${t}\0${n}`;r!==hr&&(hr=r,mr(e,t).then(e=>r===hr&&(ur.value={of:t,list:e}),()=>{}))});var gr=e=>dr.value?.path===e?dr.value.si:Et.value?.parameters.find(t=>t.path===e)?.si,_r=We(()=>{let e=ir.value,t=ur.value,n=e&&(sr.value===t.of?cr(e,t.of):null);return n?t.list.map(e=>{let t=[0,1,2].map(e=>(n[0][e]+n[1][e])/2),r=[...t];return t[e.axis]=n[e.side][e.axis],r[e.axis]=n[1-e.side][e.axis],{...e,at:t,from:r}}):[]}),vr=We(()=>_r.value.map(e=>[e.from,e.at])),yr=e=>`${An.value?Fn(e/.0254,9):Fn(e*1e3,9)} ${Mn()}`.replace(`−`,`-`);function br(e,t,n,r){let i=(n-t)/e.moves[0].rate;return e.moves.map((e,t)=>({path:e.path,value:yr(t===0?n:Math.round((r[t]+i*e.rate)*1e9)/1e9)}))}function xr({view:e,frame:t}){let n=V(null),r=V(K(``)),i=()=>{let t=e.current,r=_r.peek();if(!t||!n.current)return;let i=[...n.current.querySelectorAll(`.handle`)].flatMap((e,n)=>{let i=r[n]&&t.project(r[n].at),a=e.querySelector(`span`);return e.style.visibility=i?``:`hidden`,i?[{...i,el:e,label:a,wide:a.offsetWidth,held:r[n].moves[0].path===dr.peek()?.path}]:[]});i.sort((e,t)=>+t.held-e.held||e.y-t.y);let a=[],o=(e,t,n,r)=>a.find(i=>e<i.x+i.wide&&i.x<e+n&&t<i.y+i.high&&i.y<t+r),s=(e,t,n,r)=>{for(let i;i=o(e,t,n,r);)t=i.y+i.high;return a.push({x:e,y:t,wide:n,high:r}),t};for(let e of i)e.y=s(e.x,e.y,lr,lr),e.el.style.transform=`translate(${e.x.toFixed(1)}px, ${e.y.toFixed(1)}px)`;for(let e of i){let t=e.x+lr,n=e.x-e.wide-4,r=o(t,e.y,e.wide,26)&&n>0&&!o(n,e.y,e.wide,26)?n:t;e.label.style.transform=`translate(${(r-t).toFixed(1)}px, ${(s(r,e.y,e.wide,26)-e.y).toFixed(1)}px)`}};t.current=i,mt(()=>{_r.value,queueMicrotask(i)});let a=t=>n=>{let i=e.current,a=n.currentTarget,o=t.moves[0].path,s=gr(o),c=i?.project(t.at),l=[...t.at];l[t.axis]+=.001;let u=i?.project(l);if(n.button!==0||s===void 0||!c||!u)return;n.preventDefault(),a.focus(),a.setPointerCapture(n.pointerId);let d=[(u.x-c.x)*1e3,(u.y-c.y)*1e3],f=Math.max(d[0]*d[0]+d[1]*d[1],25e4),p=t.moves.map(e=>Et.value?.parameters.find(t=>t.path===e.path)?.si??0),m=q.value,h=s,g=s,_=!1,v=!1;dr.value={path:o,si:s};let y=async()=>{if(!_){for(_=!0;g!==h;){let e=g=h;try{await rn(q.value===m,...br(t,s,e,p)),r.current.value=Et.value?.problems[0]?.what??``}catch(e){r.current.value=e instanceof ht?e.message:St(e)}}_=!1,v&&b()}},b=()=>{dr.value=null,r.current.value=``,an()},x=e=>{let r=((e.clientX-n.clientX)*d[0]+(e.clientY-n.clientY)*d[1])/f,i=rr(),a=Math.round((s+r*t.moves[0].rate)/i)*i;h=s>0?Math.max(i,a):a,dr.value={path:o,si:h},y()},S=()=>{a.removeEventListener(`pointermove`,x),a.removeEventListener(`keydown`,C),v=!0,_||b()},C=e=>{e.key===`Escape`&&(h=s,dr.value={path:o,si:h},y(),S())};a.addEventListener(`pointermove`,x),a.addEventListener(`keydown`,C),a.addEventListener(`lostpointercapture`,S,{once:!0})},o=e=>t=>{let n={ArrowUp:1,ArrowRight:1,ArrowDown:-1,ArrowLeft:-1}[t.key],i=gr(e.moves[0].path);if(!n||i===void 0||dr.value)return;t.preventDefault();let a=rr()*(t.shiftKey?10:1);tn(...br(e,i,Math.round(i/rr())*rr()+n*a,e.moves.map(e=>Et.value?.parameters.find(t=>t.path===e.path)?.si??0))).then(()=>r.current.value=``,e=>!(e instanceof DOMException)&&(r.current.value=St(e)))};return Y(`div`,{class:`handles`,ref:n,children:[_r.value.map(e=>{let t=e.moves[0].path,n=gr(t)??0,r=dr.value?.path===t,i=`${sr.value&&t.split(`.`).includes(sr.value)?`${sr.value}: `:``}${Yn(t)}`;return Y(`div`,{class:`handle ${r?`held`:``}`,role:`slider`,tabIndex:0,"aria-label":i,"aria-valuenow":+(n*Nn()).toFixed(4),"aria-valuetext":Pn(n,5),onPointerDown:a(e),onKeyDown:o(e),children:Y(`span`,{children:[i,` `,Y(`b`,{children:Pn(n,5)})]})},`${t}${e.side}`)}),r.current.value&&Y(`p`,{class:`fault`,role:`alert`,children:r.current.value})]})}var Sr=e=>Array.from({length:e.columns*e.rows},(t,n)=>Math.hypot(e.b_T[3*n],e.b_T[3*n+1],e.b_T[3*n+2]));function Cr(e,t){let n=Math.min(1,Math.max(0,t))*(e.length-1),r=Math.min(e.length-2,Math.floor(n)),i=n-r;return[0,1,2].map(t=>e[r][t]*(1-i)+e[r+1][t]*i)}function wr(e){let t=Math.max(e.columns,e.rows)/26,n=.4,r=Math.ceil(e.columns/t)+1,i=Math.ceil(e.rows/t)+1,a=Array.from({length:r*i},()=>[]),o=([e,n],o)=>{let s=Math.floor(e/t),c=Math.floor(n/t);for(let t=Math.max(0,c-1);t<=Math.min(i-1,c+1);t++)for(let i=Math.max(0,s-1);i<=Math.min(r-1,s+1);i++)for(let s of a[t*r+i])if(Math.hypot(s[0]-e,s[1]-n)<o)return!0;return!1},s=(t,n)=>{let r=Math.floor(t),i=Math.floor(n);if(r<0||i<0||r>=e.columns-1||i>=e.rows-1)return null;let a=t-r,o=n-i,s=3*(i*e.columns+r),c=3*e.columns,l=t=>(e.b_T[s+t]*(1-a)+e.b_T[s+3+t]*a)*(1-o)+(e.b_T[s+c+t]*(1-a)+e.b_T[s+c+3+t]*a)*o,u=l(e.across),d=l(e.up),f=Math.hypot(u,d);return f<1e-7?null:[u/f,d/f,f]},c=(r,i)=>{let a=[],[c,l]=r;for(let u=0;u<4*(e.columns+e.rows);u++){let e=s(c,l),d=e&&s(c+i*n*e[0]/2,l+i*n*e[1]/2);if(!d||(c+=i*n*d[0],l+=i*n*d[1],o([c,l],.5*t)||u>12&&Math.hypot(c-r[0],l-r[1])<n))break;a.push([c,l])}return a},l=[];for(let e=.5;e<i;e++)for(let i=.5;i<r;i++){let u=[i*t,e*t];if(!s(...u)||o(u,t))continue;let d=[...c(u,-1).reverse(),u,...c(u,1)];if(d.length*n<2*t)continue;for(let e of d)a[Math.floor(e[1]/t)*r+Math.floor(e[0]/t)]?.push(e);let[f,p]=d[d.length>>1],m=s(f,p),h=d.slice(1).flatMap((e,t)=>[d[t],e]);for(let e of[1,-1])h.push([f,p],[f-.35*t*m[0]+e*.2*t*m[1],p-.35*t*m[1]-e*.2*t*m[0]]);l.push({b:m[2],segments:h})}return l}function Tr(e,t,n,r){let i=[];for(let a=0;a+1<n;a++)for(let n=0;n+1<t;n++){let o=[[n,a],[n+1,a],[n+1,a+1],[n,a+1]],s=o.map(([n,i])=>e[i*t+n]-r);if(!s.every(Number.isFinite))continue;let c=[];for(let e=0;e<4;e++){let t=(e+1)%4,n=s[e],r=s[t];if(n<0==r<0)continue;let i=n/(n-r);c.push([o[e][0]+i*(o[t][0]-o[e][0]),o[e][1]+i*(o[t][1]-o[e][1])])}c.length===4&&s[0]+s[1]+s[2]+s[3]<0!=s[0]<0&&c.push(c.shift());for(let e=0;e+1<c.length;e+=2)i.push([c[e],c[e+1]])}return i}var Er=K(null),Dr=e=>Math.max(...e.map(e=>Math.abs(e.t)),1e-12),Or=(e,t)=>3+8*Math.sqrt(Math.abs(e)/t),kr=Array.from({length:65},(e,t)=>{let n=t/32-1,r=Math.abs(n),i=(n<0?255:55)*Math.PI/180,a=.95-.42*r,o=.13*r*Math.cos(i),s=.13*r*Math.sin(i),c=(a+.3963377774*o+.2158037573*s)**3,l=(a-.1055613458*o-.0638541728*s)**3,u=(a-.0894841775*o-1.291485548*s)**3;return[4.0767416621*c-3.3077115913*l+.2309699292*u,-1.2684380046*c+2.6097574011*l-.3413193965*u,-.0041960863*c-.7034186147*l+1.707614701*u].map(e=>Math.round(255*Math.min(1,Math.max(0,e<=.0031308?12.92*e:1.055*e**(1/2.4)-.055))))}),Ar=2e3,jr=80,Mr=[`x`,`y`,`z`],Nr=(e,t=3)=>(e>0?`+`:``)+J(e,t);function Pr(e,t){let n=1/0,r=-1/0;for(let i of e)[n,r]=[Math.min(n,i.at[t]),Math.max(r,i.at[t])];return r-n}function Fr(e){return[0,1,2].sort((t,n)=>Pr(e,n)-Pr(e,t)).slice(0,2).sort((e,t)=>e-t)}var Ir=[1,2,5];function Lr(e,t){let n=(t-e)/5,r=10**Math.floor(Math.log10(n)),i=Ir.map(e=>e*r).find(e=>e>=n)??10*r,a=[];for(let n=Math.ceil(e/i)*i;n<=t+1e-9*i;n+=i)a.push(+n.toPrecision(9));return a}function Rr({list:e,title:t,stale:n}){let r=ot(``),[i,a]=r.value?r.value.split(``).map(Number):Fr(e),o=Nn(),s=t=>{let n=e.map(e=>e.at[t]*o),r=Math.min(...n),s=Math.max(...n),c=Math.max(.18*(s-r),(.06*Math.max(Pr(e,i),Pr(e,a))+.001)*o);return[r-c,s+c]},[c,l]=s(i),[u,d]=s(a),f=Math.min(644/(l-c),460/(d-u)),p=Math.max(f*(l-c),643.356),m=Math.max(120,f*(d-u)),h=(c+l)/2,g=(u+d)/2,_=e=>62+p/2+f*(e-h),v=e=>12+m/2-f*(e-g),y=12+m+46,b=Dr(e),x=e.slice(0,Ar),S=e=>`${Mr[e]}, ${Mn()}`,C=h-p/2/f,w=h+p/2/f,T=g-m/2/f,E=g+m/2/f;return Y(`figure`,{class:`chart ${n?`stale`:``}`,children:[Y(`figcaption`,{children:[Y(`span`,{children:t}),Y(`label`,{children:[`Seen in the plane `,Y(`select`,{value:`${i}${a}`,onChange:e=>r.value=e.currentTarget.value,children:[Y(`option`,{value:`01`,children:`x and y`}),Y(`option`,{value:`02`,children:`x and z`}),Y(`option`,{value:`12`,children:`y and z`})]})]})]}),Y(`svg`,{class:`residuals`,viewBox:`0 0 720 ${y}`,role:`img`,"aria-label":`${t}: ${e.length} places, the largest ${J(b*1e3,3)} mT. The table of readings has every number.`,children:[Y(`defs`,{children:Y(`clipPath`,{id:`residual-frame`,children:Y(`rect`,{x:62,y:12,width:p,height:m})})}),Y(`rect`,{class:`frame`,x:62,y:12,width:p,height:m}),Lr(C,w).map(e=>Y(`g`,{children:[Y(`line`,{class:`grid`,x1:_(e),x2:_(e),y1:12,y2:12+m}),Y(`text`,{x:_(e),y:12+m+16,"text-anchor":`middle`,children:String(e).replace(`-`,`−`)})]},`u${e}`)),Lr(T,E).map(e=>Y(`g`,{children:[Y(`line`,{class:`grid`,x1:62,x2:62+p,y1:v(e),y2:v(e)}),Y(`text`,{x:56,y:v(e)+4,"text-anchor":`end`,children:String(e).replace(`-`,`−`)})]},`v${e}`)),Y(`text`,{x:62+p/2,y:y-8,"text-anchor":`middle`,children:S(i)}),Y(`text`,{x:14,y:12+m/2,"text-anchor":`middle`,transform:`rotate(-90 14 ${12+m/2})`,children:S(a)}),Y(`g`,{"clip-path":`url(#residual-frame)`,children:(Et.value?.parts??[]).map(e=>Y(`rect`,{class:`part`,x:_(e.bounds_m[0][i]*o),y:v(e.bounds_m[1][a]*o),width:Math.max(0,f*o*(e.bounds_m[1][i]-e.bounds_m[0][i])),height:Math.max(0,f*o*(e.bounds_m[1][a]-e.bounds_m[0][a])),children:Y(`title`,{children:e.name})},e.name))}),x.map((e,t)=>{let n=_(e.at[i]*o),r=v(e.at[a]*o),s=Or(e.t,b);return Y(`g`,{class:e.wrong?`mark wrong`:e.t>=0?`mark more`:`mark less`,children:[e.t>=0?Y(`circle`,{cx:n,cy:r,r:s}):Y(`rect`,{x:n-.9*s,y:r-.9*s,width:1.8*s,height:1.8*s}),Y(`title`,{children:`line ${e.line}: ${e.component} ${Nr(e.t*1e3)} mT at x ${Pn(e.at[0])}, y ${Pn(e.at[1])}, z ${Pn(e.at[2])}`}),t<jr&&Y(`text`,{x:n+s+3,y:r+4,children:Nr(e.t*1e3,2)})]},t)})]}),Y(`p`,{children:Y(`small`,{children:[`Numbers are mT. A round mark reads more than it should, a square one less; the area of a mark goes with the difference. Thin outlines are parts. Places that lie behind one another cover each other: look from another side too.`,e.length>Ar?` The first ${Ar} of ${e.length} are drawn.`:``,x.length>jr?` The first ${jr} have their numbers.`:``]})})]})}var zr={LEFT:0,MIDDLE:1,RIGHT:2,ROTATE:0,DOLLY:1,PAN:2},Br={ROTATE:0,PAN:1,DOLLY_PAN:2,DOLLY_ROTATE:3},Vr=1e3,Hr=1001,Ur=1002,Wr=1003,Gr=1004,Kr=1005,qr=1006,Jr=1007,Yr=1008,Xr=1009,Zr=1010,Qr=1011,$r=1012,ei=1013,ti=1014,ni=1015,ri=1016,ii=1017,ai=1018,oi=1020,si=35902,ci=35899,li=1021,ui=1022,di=1023,fi=1026,pi=1027,mi=1028,hi=1029,gi=1030,_i=1031,vi=1033,yi=33776,bi=33777,xi=33778,Si=33779,Ci=35840,wi=35841,Ti=35842,Ei=35843,Di=36196,Oi=37492,ki=37496,Ai=37488,ji=37489,Mi=37490,Ni=37491,Pi=37808,Fi=37809,Ii=37810,Li=37811,Ri=37812,zi=37813,Bi=37814,Vi=37815,Hi=37816,Ui=37817,Wi=37818,Gi=37819,Ki=37820,qi=37821,Ji=36492,Yi=36494,Xi=36495,Zi=36283,Qi=36284,$i=36285,ea=36286,ta=2300,na=2301,ra=2302,ia=2303,aa=2400,oa=2401,sa=2402,ca=3200,la=`srgb`,ua=`srgb-linear`,da=`linear`,fa=`srgb`,pa=7680,ma=35044,ha=2e3;function ga(e){for(let t=e.length-1;t>=0;--t)if(e[t]>=65535)return!0;return!1}function _a(e){return ArrayBuffer.isView(e)&&!(e instanceof DataView)}function va(e){return document.createElementNS(`http://www.w3.org/1999/xhtml`,e)}function ya(){let e=va(`canvas`);return e.style.display=`block`,e}var ba={};function xa(...e){let t=`THREE.`+e.shift();console.log(t,...e)}function Sa(e){let t=e[0];if(typeof t==`string`&&t.startsWith(`TSL:`)){let t=e[1];t&&t.isStackTrace?e[0]+=` `+t.getLocation():e[1]=`Stack trace not available. Enable "THREE.Node.captureStackTrace" to capture stack traces.`}return e}function X(...e){e=Sa(e);let t=`THREE.`+e.shift();{let n=e[0];n&&n.isStackTrace?console.warn(n.getError(t)):console.warn(t,...e)}}function Ca(...e){e=Sa(e);let t=`THREE.`+e.shift();{let n=e[0];n&&n.isStackTrace?console.error(n.getError(t)):console.error(t,...e)}}function wa(...e){let t=e.join(` `);t in ba||(ba[t]=!0,X(...e))}function Ta(e,t,n){return new Promise(function(r,i){function a(){switch(e.clientWaitSync(t,e.SYNC_FLUSH_COMMANDS_BIT,0)){case e.WAIT_FAILED:i();break;case e.TIMEOUT_EXPIRED:setTimeout(a,n);break;default:r()}}setTimeout(a,n)})}var Ea={0:0,2:6,4:4,3:5,1:1,6:2,7:7,5:3},Da=class{addEventListener(e,t){this._listeners===void 0&&(this._listeners={});let n=this._listeners;n[e]===void 0&&(n[e]=[]),n[e].indexOf(t)===-1&&n[e].push(t)}hasEventListener(e,t){let n=this._listeners;return n!==void 0&&n[e]!==void 0&&n[e].indexOf(t)!==-1}removeEventListener(e,t){let n=this._listeners;if(n===void 0)return;let r=n[e];if(r!==void 0){let e=r.indexOf(t);e!==-1&&r.splice(e,1)}}dispatchEvent(e){let t=this._listeners;if(t===void 0)return;let n=t[e.type];if(n!==void 0){e.target=this;let t=n.slice(0);for(let n=0,r=t.length;n<r;n++)t[n].call(this,e);e.target=null}}},Oa=`00.01.02.03.04.05.06.07.08.09.0a.0b.0c.0d.0e.0f.10.11.12.13.14.15.16.17.18.19.1a.1b.1c.1d.1e.1f.20.21.22.23.24.25.26.27.28.29.2a.2b.2c.2d.2e.2f.30.31.32.33.34.35.36.37.38.39.3a.3b.3c.3d.3e.3f.40.41.42.43.44.45.46.47.48.49.4a.4b.4c.4d.4e.4f.50.51.52.53.54.55.56.57.58.59.5a.5b.5c.5d.5e.5f.60.61.62.63.64.65.66.67.68.69.6a.6b.6c.6d.6e.6f.70.71.72.73.74.75.76.77.78.79.7a.7b.7c.7d.7e.7f.80.81.82.83.84.85.86.87.88.89.8a.8b.8c.8d.8e.8f.90.91.92.93.94.95.96.97.98.99.9a.9b.9c.9d.9e.9f.a0.a1.a2.a3.a4.a5.a6.a7.a8.a9.aa.ab.ac.ad.ae.af.b0.b1.b2.b3.b4.b5.b6.b7.b8.b9.ba.bb.bc.bd.be.bf.c0.c1.c2.c3.c4.c5.c6.c7.c8.c9.ca.cb.cc.cd.ce.cf.d0.d1.d2.d3.d4.d5.d6.d7.d8.d9.da.db.dc.dd.de.df.e0.e1.e2.e3.e4.e5.e6.e7.e8.e9.ea.eb.ec.ed.ee.ef.f0.f1.f2.f3.f4.f5.f6.f7.f8.f9.fa.fb.fc.fd.fe.ff`.split(`.`),ka=1234567,Aa=Math.PI/180,ja=180/Math.PI;function Ma(){let e=Math.random()*4294967295|0,t=Math.random()*4294967295|0,n=Math.random()*4294967295|0,r=Math.random()*4294967295|0;return(Oa[e&255]+Oa[e>>8&255]+Oa[e>>16&255]+Oa[e>>24&255]+`-`+Oa[t&255]+Oa[t>>8&255]+`-`+Oa[t>>16&15|64]+Oa[t>>24&255]+`-`+Oa[n&63|128]+Oa[n>>8&255]+`-`+Oa[n>>16&255]+Oa[n>>24&255]+Oa[r&255]+Oa[r>>8&255]+Oa[r>>16&255]+Oa[r>>24&255]).toLowerCase()}function Na(e,t,n){return Math.max(t,Math.min(n,e))}function Pa(e,t){return(e%t+t)%t}function Fa(e,t,n,r,i){return r+(e-t)*(i-r)/(n-t)}function Ia(e,t,n){return e===t?0:(n-e)/(t-e)}function La(e,t,n){return(1-n)*e+n*t}function Ra(e,t,n,r){return La(e,t,1-Math.exp(-n*r))}function za(e,t=1){return t-Math.abs(Pa(e,t*2)-t)}function Ba(e,t,n){return e<=t?0:e>=n?1:(e=(e-t)/(n-t),e*e*(3-2*e))}function Va(e,t,n){return e<=t?0:e>=n?1:(e=(e-t)/(n-t),e*e*e*(e*(e*6-15)+10))}function Ha(e,t){return e+Math.floor(Math.random()*(t-e+1))}function Ua(e,t){return e+Math.random()*(t-e)}function Wa(e){return e*(.5-Math.random())}function Ga(e){e!==void 0&&(ka=e);let t=ka+=1831565813;return t=Math.imul(t^t>>>15,t|1),t^=t+Math.imul(t^t>>>7,t|61),((t^t>>>14)>>>0)/4294967296}function Ka(e){return e*Aa}function qa(e){return e*ja}function Ja(e){return e>0&&Number.isInteger(e)&&2**Math.round(Math.log2(e))===e}function Ya(e){return 2**Math.ceil(Math.log(e)/Math.LN2)}function Xa(e){return 2**Math.floor(Math.log(e)/Math.LN2)}function Za(e,t,n,r,i){let a=Math.cos,o=Math.sin,s=a(n/2),c=o(n/2),l=a((t+r)/2),u=o((t+r)/2),d=a((t-r)/2),f=o((t-r)/2),p=a((r-t)/2),m=o((r-t)/2);switch(i){case`XYX`:e.set(s*u,c*d,c*f,s*l);break;case`YZY`:e.set(c*f,s*u,c*d,s*l);break;case`ZXZ`:e.set(c*d,c*f,s*u,s*l);break;case`XZX`:e.set(s*u,c*m,c*p,s*l);break;case`YXY`:e.set(c*p,s*u,c*m,s*l);break;case`ZYZ`:e.set(c*m,c*p,s*u,s*l);break;default:X(`MathUtils: .setQuaternionFromProperEuler() encountered an unknown order: `+i)}}function Qa(e){switch(e.constructor){case Uint32Array:return 4294967295;case Uint16Array:return 65535;case Uint8Array:case Uint8ClampedArray:return 255;case Int32Array:return 2147483647;case Int16Array:return 32767;case Int8Array:return 127;default:return}}function $a(e,t){if(t.constructor===Float32Array)return e;let n=Qa(t);if(n===void 0)throw Error(`THREE.MathUtils: Invalid component type.`);return Math.max(e/n,-1)}function eo(e,t){if(t.constructor===Float32Array)return e;let n=Qa(t);if(n===void 0)throw Error(`THREE.MathUtils: Invalid component type.`);return Math.round(e*n)}var to={DEG2RAD:Aa,RAD2DEG:ja,generateUUID:Ma,clamp:Na,euclideanModulo:Pa,mapLinear:Fa,inverseLerp:Ia,lerp:La,damp:Ra,pingpong:za,smoothstep:Ba,smootherstep:Va,randInt:Ha,randFloat:Ua,randFloatSpread:Wa,seededRandom:Ga,degToRad:Ka,radToDeg:qa,isPowerOfTwo:Ja,ceilPowerOfTwo:Ya,floorPowerOfTwo:Xa,setQuaternionFromProperEuler:Za,normalize:eo,denormalize:$a},Z=class{static{this.prototype.isVector2=!0}constructor(e=0,t=0){this.x=e,this.y=t}get width(){return this.x}set width(e){this.x=e}get height(){return this.y}set height(e){this.y=e}set(e,t){return this.x=e,this.y=t,this}setScalar(e){return this.x=e,this.y=e,this}setX(e){return this.x=e,this}setY(e){return this.y=e,this}setComponent(e,t){switch(e){case 0:this.x=t;break;case 1:this.y=t;break;default:throw Error(`THREE.Vector2: index is out of range: `+e)}return this}getComponent(e){switch(e){case 0:return this.x;case 1:return this.y;default:throw Error(`THREE.Vector2: index is out of range: `+e)}}clone(){return new this.constructor(this.x,this.y)}copy(e){return this.x=e.x,this.y=e.y,this}add(e){return this.x+=e.x,this.y+=e.y,this}addScalar(e){return this.x+=e,this.y+=e,this}addVectors(e,t){return this.x=e.x+t.x,this.y=e.y+t.y,this}addScaledVector(e,t){return this.x+=e.x*t,this.y+=e.y*t,this}sub(e){return this.x-=e.x,this.y-=e.y,this}subScalar(e){return this.x-=e,this.y-=e,this}subVectors(e,t){return this.x=e.x-t.x,this.y=e.y-t.y,this}multiply(e){return this.x*=e.x,this.y*=e.y,this}multiplyScalar(e){return this.x*=e,this.y*=e,this}divide(e){return this.x/=e.x,this.y/=e.y,this}divideScalar(e){return this.multiplyScalar(1/e)}applyMatrix3(e){let t=this.x,n=this.y,r=e.elements;return this.x=r[0]*t+r[3]*n+r[6],this.y=r[1]*t+r[4]*n+r[7],this}min(e){return this.x=Math.min(this.x,e.x),this.y=Math.min(this.y,e.y),this}max(e){return this.x=Math.max(this.x,e.x),this.y=Math.max(this.y,e.y),this}clamp(e,t){return this.x=Na(this.x,e.x,t.x),this.y=Na(this.y,e.y,t.y),this}clampScalar(e,t){return this.x=Na(this.x,e,t),this.y=Na(this.y,e,t),this}clampLength(e,t){let n=this.length();return this.divideScalar(n||1).multiplyScalar(Na(n,e,t))}floor(){return this.x=Math.floor(this.x),this.y=Math.floor(this.y),this}ceil(){return this.x=Math.ceil(this.x),this.y=Math.ceil(this.y),this}round(){return this.x=Math.round(this.x),this.y=Math.round(this.y),this}roundToZero(){return this.x=Math.trunc(this.x),this.y=Math.trunc(this.y),this}negate(){return this.x=-this.x,this.y=-this.y,this}dot(e){return this.x*e.x+this.y*e.y}cross(e){return this.x*e.y-this.y*e.x}lengthSq(){return this.x*this.x+this.y*this.y}length(){return Math.sqrt(this.x*this.x+this.y*this.y)}manhattanLength(){return Math.abs(this.x)+Math.abs(this.y)}normalize(){return this.divideScalar(this.length()||1)}angle(){return Math.atan2(-this.y,-this.x)+Math.PI}angleTo(e){let t=Math.sqrt(this.lengthSq()*e.lengthSq());if(t===0)return Math.PI/2;let n=this.dot(e)/t;return Math.acos(Na(n,-1,1))}distanceTo(e){return Math.sqrt(this.distanceToSquared(e))}distanceToSquared(e){let t=this.x-e.x,n=this.y-e.y;return t*t+n*n}manhattanDistanceTo(e){return Math.abs(this.x-e.x)+Math.abs(this.y-e.y)}setLength(e){return this.normalize().multiplyScalar(e)}lerp(e,t){return this.x+=(e.x-this.x)*t,this.y+=(e.y-this.y)*t,this}lerpVectors(e,t,n){return this.x=e.x+(t.x-e.x)*n,this.y=e.y+(t.y-e.y)*n,this}equals(e){return e.x===this.x&&e.y===this.y}fromArray(e,t=0){return this.x=e[t],this.y=e[t+1],this}toArray(e=[],t=0){return e[t]=this.x,e[t+1]=this.y,e}fromBufferAttribute(e,t){return this.x=e.getX(t),this.y=e.getY(t),this}rotateAround(e,t){let n=Math.cos(t),r=Math.sin(t),i=this.x-e.x,a=this.y-e.y;return this.x=i*n-a*r+e.x,this.y=i*r+a*n+e.y,this}random(){return this.x=Math.random(),this.y=Math.random(),this}*[Symbol.iterator](){yield this.x,yield this.y}},no=class{constructor(e=0,t=0,n=0,r=1){this.isQuaternion=!0,this._x=e,this._y=t,this._z=n,this._w=r}static slerpFlat(e,t,n,r,i,a,o){let s=n[r+0],c=n[r+1],l=n[r+2],u=n[r+3],d=i[a+0],f=i[a+1],p=i[a+2],m=i[a+3];if(u!==m||s!==d||c!==f||l!==p){let e=s*d+c*f+l*p+u*m;e<0&&(d=-d,f=-f,p=-p,m=-m,e=-e);let t=1-o;if(e<.9995){let n=Math.acos(e),r=Math.sin(n);t=Math.sin(t*n)/r,o=Math.sin(o*n)/r,s=s*t+d*o,c=c*t+f*o,l=l*t+p*o,u=u*t+m*o}else{s=s*t+d*o,c=c*t+f*o,l=l*t+p*o,u=u*t+m*o;let e=1/Math.sqrt(s*s+c*c+l*l+u*u);s*=e,c*=e,l*=e,u*=e}}e[t]=s,e[t+1]=c,e[t+2]=l,e[t+3]=u}static multiplyQuaternionsFlat(e,t,n,r,i,a){let o=n[r],s=n[r+1],c=n[r+2],l=n[r+3],u=i[a],d=i[a+1],f=i[a+2],p=i[a+3];return e[t]=o*p+l*u+s*f-c*d,e[t+1]=s*p+l*d+c*u-o*f,e[t+2]=c*p+l*f+o*d-s*u,e[t+3]=l*p-o*u-s*d-c*f,e}get x(){return this._x}set x(e){this._x=e,this._onChangeCallback()}get y(){return this._y}set y(e){this._y=e,this._onChangeCallback()}get z(){return this._z}set z(e){this._z=e,this._onChangeCallback()}get w(){return this._w}set w(e){this._w=e,this._onChangeCallback()}set(e,t,n,r){return this._x=e,this._y=t,this._z=n,this._w=r,this._onChangeCallback(),this}clone(){return new this.constructor(this._x,this._y,this._z,this._w)}copy(e){return this._x=e.x,this._y=e.y,this._z=e.z,this._w=e.w,this._onChangeCallback(),this}setFromEuler(e,t=!0){let n=e._x,r=e._y,i=e._z,a=e._order,o=Math.cos,s=Math.sin,c=o(n/2),l=o(r/2),u=o(i/2),d=s(n/2),f=s(r/2),p=s(i/2);switch(a){case`XYZ`:this._x=d*l*u+c*f*p,this._y=c*f*u-d*l*p,this._z=c*l*p+d*f*u,this._w=c*l*u-d*f*p;break;case`YXZ`:this._x=d*l*u+c*f*p,this._y=c*f*u-d*l*p,this._z=c*l*p-d*f*u,this._w=c*l*u+d*f*p;break;case`ZXY`:this._x=d*l*u-c*f*p,this._y=c*f*u+d*l*p,this._z=c*l*p+d*f*u,this._w=c*l*u-d*f*p;break;case`ZYX`:this._x=d*l*u-c*f*p,this._y=c*f*u+d*l*p,this._z=c*l*p-d*f*u,this._w=c*l*u+d*f*p;break;case`YZX`:this._x=d*l*u+c*f*p,this._y=c*f*u+d*l*p,this._z=c*l*p-d*f*u,this._w=c*l*u-d*f*p;break;case`XZY`:this._x=d*l*u-c*f*p,this._y=c*f*u-d*l*p,this._z=c*l*p+d*f*u,this._w=c*l*u+d*f*p;break;default:X(`Quaternion: .setFromEuler() encountered an unknown order: `+a)}return t===!0&&this._onChangeCallback(),this}setFromAxisAngle(e,t){let n=t/2,r=Math.sin(n);return this._x=e.x*r,this._y=e.y*r,this._z=e.z*r,this._w=Math.cos(n),this._onChangeCallback(),this}setFromRotationMatrix(e){let t=e.elements,n=t[0],r=t[4],i=t[8],a=t[1],o=t[5],s=t[9],c=t[2],l=t[6],u=t[10],d=n+o+u;if(d>0){let e=.5/Math.sqrt(d+1);this._w=.25/e,this._x=(l-s)*e,this._y=(i-c)*e,this._z=(a-r)*e}else if(n>o&&n>u){let e=2*Math.sqrt(1+n-o-u);this._w=(l-s)/e,this._x=.25*e,this._y=(r+a)/e,this._z=(i+c)/e}else if(o>u){let e=2*Math.sqrt(1+o-n-u);this._w=(i-c)/e,this._x=(r+a)/e,this._y=.25*e,this._z=(s+l)/e}else{let e=2*Math.sqrt(1+u-n-o);this._w=(a-r)/e,this._x=(i+c)/e,this._y=(s+l)/e,this._z=.25*e}return this._onChangeCallback(),this}setFromUnitVectors(e,t){let n=e.dot(t)+1;return n<1e-8?(n=0,Math.abs(e.x)>Math.abs(e.z)?(this._x=-e.y,this._y=e.x,this._z=0,this._w=n):(this._x=0,this._y=-e.z,this._z=e.y,this._w=n)):(this._x=e.y*t.z-e.z*t.y,this._y=e.z*t.x-e.x*t.z,this._z=e.x*t.y-e.y*t.x,this._w=n),this.normalize()}angleTo(e){return 2*Math.acos(Math.abs(Na(this.dot(e),-1,1)))}rotateTowards(e,t){let n=this.angleTo(e);if(n===0)return this;let r=Math.min(1,t/n);return this.slerp(e,r),this}identity(){return this.set(0,0,0,1)}invert(){return this.conjugate()}conjugate(){return this._x*=-1,this._y*=-1,this._z*=-1,this._onChangeCallback(),this}dot(e){return this._x*e._x+this._y*e._y+this._z*e._z+this._w*e._w}lengthSq(){return this._x*this._x+this._y*this._y+this._z*this._z+this._w*this._w}length(){return Math.sqrt(this._x*this._x+this._y*this._y+this._z*this._z+this._w*this._w)}normalize(){let e=this.length();return e===0?(this._x=0,this._y=0,this._z=0,this._w=1):(e=1/e,this._x*=e,this._y*=e,this._z*=e,this._w*=e),this._onChangeCallback(),this}multiply(e){return this.multiplyQuaternions(this,e)}premultiply(e){return this.multiplyQuaternions(e,this)}multiplyQuaternions(e,t){let n=e._x,r=e._y,i=e._z,a=e._w,o=t._x,s=t._y,c=t._z,l=t._w;return this._x=n*l+a*o+r*c-i*s,this._y=r*l+a*s+i*o-n*c,this._z=i*l+a*c+n*s-r*o,this._w=a*l-n*o-r*s-i*c,this._onChangeCallback(),this}slerp(e,t){let n=e._x,r=e._y,i=e._z,a=e._w,o=this.dot(e);o<0&&(n=-n,r=-r,i=-i,a=-a,o=-o);let s=1-t;if(o<.9995){let e=Math.acos(o),c=Math.sin(e);s=Math.sin(s*e)/c,t=Math.sin(t*e)/c,this._x=this._x*s+n*t,this._y=this._y*s+r*t,this._z=this._z*s+i*t,this._w=this._w*s+a*t,this._onChangeCallback()}else this._x=this._x*s+n*t,this._y=this._y*s+r*t,this._z=this._z*s+i*t,this._w=this._w*s+a*t,this.normalize();return this}slerpQuaternions(e,t,n){return this.copy(e).slerp(t,n)}random(){let e=2*Math.PI*Math.random(),t=2*Math.PI*Math.random(),n=Math.random(),r=Math.sqrt(1-n),i=Math.sqrt(n);return this.set(r*Math.sin(e),r*Math.cos(e),i*Math.sin(t),i*Math.cos(t))}equals(e){return e._x===this._x&&e._y===this._y&&e._z===this._z&&e._w===this._w}fromArray(e,t=0){return this._x=e[t],this._y=e[t+1],this._z=e[t+2],this._w=e[t+3],this._onChangeCallback(),this}toArray(e=[],t=0){return e[t]=this._x,e[t+1]=this._y,e[t+2]=this._z,e[t+3]=this._w,e}fromBufferAttribute(e,t){return this._x=e.getX(t),this._y=e.getY(t),this._z=e.getZ(t),this._w=e.getW(t),this._onChangeCallback(),this}toJSON(){return this.toArray()}_onChange(e){return this._onChangeCallback=e,this}_onChangeCallback(){}*[Symbol.iterator](){yield this._x,yield this._y,yield this._z,yield this._w}},Q=class{static{this.prototype.isVector3=!0}constructor(e=0,t=0,n=0){this.x=e,this.y=t,this.z=n}set(e,t,n){return n===void 0&&(n=this.z),this.x=e,this.y=t,this.z=n,this}setScalar(e){return this.x=e,this.y=e,this.z=e,this}setX(e){return this.x=e,this}setY(e){return this.y=e,this}setZ(e){return this.z=e,this}setComponent(e,t){switch(e){case 0:this.x=t;break;case 1:this.y=t;break;case 2:this.z=t;break;default:throw Error(`THREE.Vector3: index is out of range: `+e)}return this}getComponent(e){switch(e){case 0:return this.x;case 1:return this.y;case 2:return this.z;default:throw Error(`THREE.Vector3: index is out of range: `+e)}}clone(){return new this.constructor(this.x,this.y,this.z)}copy(e){return this.x=e.x,this.y=e.y,this.z=e.z,this}add(e){return this.x+=e.x,this.y+=e.y,this.z+=e.z,this}addScalar(e){return this.x+=e,this.y+=e,this.z+=e,this}addVectors(e,t){return this.x=e.x+t.x,this.y=e.y+t.y,this.z=e.z+t.z,this}addScaledVector(e,t){return this.x+=e.x*t,this.y+=e.y*t,this.z+=e.z*t,this}sub(e){return this.x-=e.x,this.y-=e.y,this.z-=e.z,this}subScalar(e){return this.x-=e,this.y-=e,this.z-=e,this}subVectors(e,t){return this.x=e.x-t.x,this.y=e.y-t.y,this.z=e.z-t.z,this}multiply(e){return this.x*=e.x,this.y*=e.y,this.z*=e.z,this}multiplyScalar(e){return this.x*=e,this.y*=e,this.z*=e,this}multiplyVectors(e,t){return this.x=e.x*t.x,this.y=e.y*t.y,this.z=e.z*t.z,this}applyEuler(e){return this.applyQuaternion(io.setFromEuler(e))}applyAxisAngle(e,t){return this.applyQuaternion(io.setFromAxisAngle(e,t))}applyMatrix3(e){let t=this.x,n=this.y,r=this.z,i=e.elements;return this.x=i[0]*t+i[3]*n+i[6]*r,this.y=i[1]*t+i[4]*n+i[7]*r,this.z=i[2]*t+i[5]*n+i[8]*r,this}applyNormalMatrix(e){return this.applyMatrix3(e).normalize()}applyMatrix4(e){let t=this.x,n=this.y,r=this.z,i=e.elements,a=1/(i[3]*t+i[7]*n+i[11]*r+i[15]);return this.x=(i[0]*t+i[4]*n+i[8]*r+i[12])*a,this.y=(i[1]*t+i[5]*n+i[9]*r+i[13])*a,this.z=(i[2]*t+i[6]*n+i[10]*r+i[14])*a,this}applyQuaternion(e){let t=this.x,n=this.y,r=this.z,i=e.x,a=e.y,o=e.z,s=e.w,c=2*(a*r-o*n),l=2*(o*t-i*r),u=2*(i*n-a*t);return this.x=t+s*c+a*u-o*l,this.y=n+s*l+o*c-i*u,this.z=r+s*u+i*l-a*c,this}project(e){return this.applyMatrix4(e.matrixWorldInverse).applyMatrix4(e.projectionMatrix)}unproject(e){return this.applyMatrix4(e.projectionMatrixInverse).applyMatrix4(e.matrixWorld)}transformDirection(e){let t=this.x,n=this.y,r=this.z,i=e.elements;return this.x=i[0]*t+i[4]*n+i[8]*r,this.y=i[1]*t+i[5]*n+i[9]*r,this.z=i[2]*t+i[6]*n+i[10]*r,this.normalize()}divide(e){return this.x/=e.x,this.y/=e.y,this.z/=e.z,this}divideScalar(e){return this.multiplyScalar(1/e)}min(e){return this.x=Math.min(this.x,e.x),this.y=Math.min(this.y,e.y),this.z=Math.min(this.z,e.z),this}max(e){return this.x=Math.max(this.x,e.x),this.y=Math.max(this.y,e.y),this.z=Math.max(this.z,e.z),this}clamp(e,t){return this.x=Na(this.x,e.x,t.x),this.y=Na(this.y,e.y,t.y),this.z=Na(this.z,e.z,t.z),this}clampScalar(e,t){return this.x=Na(this.x,e,t),this.y=Na(this.y,e,t),this.z=Na(this.z,e,t),this}clampLength(e,t){let n=this.length();return this.divideScalar(n||1).multiplyScalar(Na(n,e,t))}floor(){return this.x=Math.floor(this.x),this.y=Math.floor(this.y),this.z=Math.floor(this.z),this}ceil(){return this.x=Math.ceil(this.x),this.y=Math.ceil(this.y),this.z=Math.ceil(this.z),this}round(){return this.x=Math.round(this.x),this.y=Math.round(this.y),this.z=Math.round(this.z),this}roundToZero(){return this.x=Math.trunc(this.x),this.y=Math.trunc(this.y),this.z=Math.trunc(this.z),this}negate(){return this.x=-this.x,this.y=-this.y,this.z=-this.z,this}dot(e){return this.x*e.x+this.y*e.y+this.z*e.z}lengthSq(){return this.x*this.x+this.y*this.y+this.z*this.z}length(){return Math.sqrt(this.x*this.x+this.y*this.y+this.z*this.z)}manhattanLength(){return Math.abs(this.x)+Math.abs(this.y)+Math.abs(this.z)}normalize(){return this.divideScalar(this.length()||1)}setLength(e){return this.normalize().multiplyScalar(e)}lerp(e,t){return this.x+=(e.x-this.x)*t,this.y+=(e.y-this.y)*t,this.z+=(e.z-this.z)*t,this}lerpVectors(e,t,n){return this.x=e.x+(t.x-e.x)*n,this.y=e.y+(t.y-e.y)*n,this.z=e.z+(t.z-e.z)*n,this}cross(e){return this.crossVectors(this,e)}crossVectors(e,t){let n=e.x,r=e.y,i=e.z,a=t.x,o=t.y,s=t.z;return this.x=r*s-i*o,this.y=i*a-n*s,this.z=n*o-r*a,this}projectOnVector(e){let t=e.lengthSq();if(t===0)return this.set(0,0,0);let n=e.dot(this)/t;return this.copy(e).multiplyScalar(n)}projectOnPlane(e){return ro.copy(this).projectOnVector(e),this.sub(ro)}reflect(e){return this.sub(ro.copy(e).multiplyScalar(2*this.dot(e)))}angleTo(e){let t=Math.sqrt(this.lengthSq()*e.lengthSq());if(t===0)return Math.PI/2;let n=this.dot(e)/t;return Math.acos(Na(n,-1,1))}distanceTo(e){return Math.sqrt(this.distanceToSquared(e))}distanceToSquared(e){let t=this.x-e.x,n=this.y-e.y,r=this.z-e.z;return t*t+n*n+r*r}manhattanDistanceTo(e){return Math.abs(this.x-e.x)+Math.abs(this.y-e.y)+Math.abs(this.z-e.z)}setFromSpherical(e){return this.setFromSphericalCoords(e.radius,e.phi,e.theta)}setFromSphericalCoords(e,t,n){let r=Math.sin(t)*e;return this.x=r*Math.sin(n),this.y=Math.cos(t)*e,this.z=r*Math.cos(n),this}setFromCylindrical(e){return this.setFromCylindricalCoords(e.radius,e.theta,e.y)}setFromCylindricalCoords(e,t,n){return this.x=e*Math.sin(t),this.y=n,this.z=e*Math.cos(t),this}setFromMatrixPosition(e){let t=e.elements;return this.x=t[12],this.y=t[13],this.z=t[14],this}setFromMatrixScale(e){let t=this.setFromMatrixColumn(e,0).length(),n=this.setFromMatrixColumn(e,1).length(),r=this.setFromMatrixColumn(e,2).length();return this.x=t,this.y=n,this.z=r,this}setFromMatrixColumn(e,t){return this.fromArray(e.elements,t*4)}setFromMatrix3Column(e,t){return this.fromArray(e.elements,t*3)}setFromEuler(e){return this.x=e._x,this.y=e._y,this.z=e._z,this}setFromColor(e){return this.x=e.r,this.y=e.g,this.z=e.b,this}equals(e){return e.x===this.x&&e.y===this.y&&e.z===this.z}fromArray(e,t=0){return this.x=e[t],this.y=e[t+1],this.z=e[t+2],this}toArray(e=[],t=0){return e[t]=this.x,e[t+1]=this.y,e[t+2]=this.z,e}fromBufferAttribute(e,t){return this.x=e.getX(t),this.y=e.getY(t),this.z=e.getZ(t),this}random(){return this.x=Math.random(),this.y=Math.random(),this.z=Math.random(),this}randomDirection(){let e=Math.random()*Math.PI*2,t=Math.random()*2-1,n=Math.sqrt(1-t*t);return this.x=n*Math.cos(e),this.y=t,this.z=n*Math.sin(e),this}*[Symbol.iterator](){yield this.x,yield this.y,yield this.z}},ro=new Q,io=new no,ao=class{static{this.prototype.isMatrix3=!0}constructor(e,t,n,r,i,a,o,s,c){this.elements=[1,0,0,0,1,0,0,0,1],e!==void 0&&this.set(e,t,n,r,i,a,o,s,c)}set(e,t,n,r,i,a,o,s,c){let l=this.elements;return l[0]=e,l[1]=r,l[2]=o,l[3]=t,l[4]=i,l[5]=s,l[6]=n,l[7]=a,l[8]=c,this}identity(){return this.set(1,0,0,0,1,0,0,0,1),this}copy(e){let t=this.elements,n=e.elements;return t[0]=n[0],t[1]=n[1],t[2]=n[2],t[3]=n[3],t[4]=n[4],t[5]=n[5],t[6]=n[6],t[7]=n[7],t[8]=n[8],this}extractBasis(e,t,n){return e.setFromMatrix3Column(this,0),t.setFromMatrix3Column(this,1),n.setFromMatrix3Column(this,2),this}setFromMatrix4(e){let t=e.elements;return this.set(t[0],t[4],t[8],t[1],t[5],t[9],t[2],t[6],t[10]),this}multiply(e){return this.multiplyMatrices(this,e)}premultiply(e){return this.multiplyMatrices(e,this)}multiplyMatrices(e,t){let n=e.elements,r=t.elements,i=this.elements,a=n[0],o=n[3],s=n[6],c=n[1],l=n[4],u=n[7],d=n[2],f=n[5],p=n[8],m=r[0],h=r[3],g=r[6],_=r[1],v=r[4],y=r[7],b=r[2],x=r[5],S=r[8];return i[0]=a*m+o*_+s*b,i[3]=a*h+o*v+s*x,i[6]=a*g+o*y+s*S,i[1]=c*m+l*_+u*b,i[4]=c*h+l*v+u*x,i[7]=c*g+l*y+u*S,i[2]=d*m+f*_+p*b,i[5]=d*h+f*v+p*x,i[8]=d*g+f*y+p*S,this}multiplyScalar(e){let t=this.elements;return t[0]*=e,t[3]*=e,t[6]*=e,t[1]*=e,t[4]*=e,t[7]*=e,t[2]*=e,t[5]*=e,t[8]*=e,this}determinant(){let e=this.elements,t=e[0],n=e[1],r=e[2],i=e[3],a=e[4],o=e[5],s=e[6],c=e[7],l=e[8];return t*a*l-t*o*c-n*i*l+n*o*s+r*i*c-r*a*s}invert(){let e=this.elements,t=e[0],n=e[1],r=e[2],i=e[3],a=e[4],o=e[5],s=e[6],c=e[7],l=e[8],u=l*a-o*c,d=o*s-l*i,f=c*i-a*s,p=t*u+n*d+r*f;if(p===0)return this.set(0,0,0,0,0,0,0,0,0);let m=1/p;return e[0]=u*m,e[1]=(r*c-l*n)*m,e[2]=(o*n-r*a)*m,e[3]=d*m,e[4]=(l*t-r*s)*m,e[5]=(r*i-o*t)*m,e[6]=f*m,e[7]=(n*s-c*t)*m,e[8]=(a*t-n*i)*m,this}transpose(){let e,t=this.elements;return e=t[1],t[1]=t[3],t[3]=e,e=t[2],t[2]=t[6],t[6]=e,e=t[5],t[5]=t[7],t[7]=e,this}getNormalMatrix(e){return this.setFromMatrix4(e).invert().transpose()}transposeIntoArray(e){let t=this.elements;return e[0]=t[0],e[1]=t[3],e[2]=t[6],e[3]=t[1],e[4]=t[4],e[5]=t[7],e[6]=t[2],e[7]=t[5],e[8]=t[8],this}setUvTransform(e,t,n,r,i,a,o){let s=Math.cos(i),c=Math.sin(i);return this.set(n*s,n*c,-n*(s*a+c*o)+a+e,-r*c,r*s,-r*(-c*a+s*o)+o+t,0,0,1),this}scale(e,t){return wa(`Matrix3: .scale() is deprecated. Use .makeScale() instead.`),this.premultiply(oo.makeScale(e,t)),this}rotate(e){return wa(`Matrix3: .rotate() is deprecated. Use .makeRotation() instead.`),this.premultiply(oo.makeRotation(-e)),this}translate(e,t){return wa(`Matrix3: .translate() is deprecated. Use .makeTranslation() instead.`),this.premultiply(oo.makeTranslation(e,t)),this}makeTranslation(e,t){return e.isVector2?this.set(1,0,e.x,0,1,e.y,0,0,1):this.set(1,0,e,0,1,t,0,0,1),this}makeRotation(e){let t=Math.cos(e),n=Math.sin(e);return this.set(t,-n,0,n,t,0,0,0,1),this}makeScale(e,t){return this.set(e,0,0,0,t,0,0,0,1),this}equals(e){let t=this.elements,n=e.elements;for(let e=0;e<9;e++)if(t[e]!==n[e])return!1;return!0}fromArray(e,t=0){for(let n=0;n<9;n++)this.elements[n]=e[n+t];return this}toArray(e=[],t=0){let n=this.elements;return e[t]=n[0],e[t+1]=n[1],e[t+2]=n[2],e[t+3]=n[3],e[t+4]=n[4],e[t+5]=n[5],e[t+6]=n[6],e[t+7]=n[7],e[t+8]=n[8],e}clone(){return new this.constructor().fromArray(this.elements)}},oo=new ao,so=new ao().set(.4123908,.3575843,.1804808,.212639,.7151687,.0721923,.0193308,.1191948,.9505322),co=new ao().set(3.2409699,-1.5373832,-.4986108,-.9692436,1.8759675,.0415551,.0556301,-.203977,1.0569715);function lo(){let e={enabled:!0,workingColorSpace:ua,spaces:{},convert:function(e,t,n){return this.enabled===!1||t===n||!t||!n||(this.spaces[t].transfer===`srgb`&&(e.r=fo(e.r),e.g=fo(e.g),e.b=fo(e.b)),this.spaces[t].primaries!==this.spaces[n].primaries&&(e.applyMatrix3(this.spaces[t].toXYZ),e.applyMatrix3(this.spaces[n].fromXYZ)),this.spaces[n].transfer===`srgb`&&(e.r=po(e.r),e.g=po(e.g),e.b=po(e.b))),e},workingToColorSpace:function(e,t){return this.convert(e,this.workingColorSpace,t)},colorSpaceToWorking:function(e,t){return this.convert(e,t,this.workingColorSpace)},getPrimaries:function(e){return this.spaces[e].primaries},getTransfer:function(e){return e===``?da:this.spaces[e].transfer},getToneMappingMode:function(e){return this.spaces[e].outputColorSpaceConfig.toneMappingMode||`standard`},getLuminanceCoefficients:function(e,t=this.workingColorSpace){return e.fromArray(this.spaces[t].luminanceCoefficients)},define:function(e){Object.assign(this.spaces,e)},_getMatrix:function(e,t,n){return e.copy(this.spaces[n].fromXYZ).multiply(this.spaces[t].toXYZ)},_getDrawingBufferColorSpace:function(e){return this.spaces[e].outputColorSpaceConfig.drawingBufferColorSpace},_getUnpackColorSpace:function(e=this.workingColorSpace){return this.spaces[e].workingColorSpaceConfig.unpackColorSpace}},t=[.64,.33,.3,.6,.15,.06],n=[.2126,.7152,.0722],r=[.3127,.329];return e.define({[ua]:{primaries:t,whitePoint:r,transfer:da,toXYZ:so,fromXYZ:co,luminanceCoefficients:n,workingColorSpaceConfig:{unpackColorSpace:la},outputColorSpaceConfig:{drawingBufferColorSpace:la}},[la]:{primaries:t,whitePoint:r,transfer:fa,toXYZ:so,fromXYZ:co,luminanceCoefficients:n,outputColorSpaceConfig:{drawingBufferColorSpace:la}}}),e}var uo=lo();function fo(e){return e<.04045?e*.0773993808:(e*.9478672986+.0521327014)**2.4}function po(e){return e<.0031308?e*12.92:1.055*e**.41666-.055}var mo,ho=class{static getDataURL(e,t=`image/png`){if(/^data:/i.test(e.src)||typeof HTMLCanvasElement>`u`)return e.src;let n;if(e instanceof HTMLCanvasElement)n=e;else{mo===void 0&&(mo=va(`canvas`)),mo.width=e.width,mo.height=e.height;let t=mo.getContext(`2d`);e instanceof ImageData?t.putImageData(e,0,0):t.drawImage(e,0,0,e.width,e.height),n=mo}return n.toDataURL(t)}static sRGBToLinear(e){if(typeof HTMLImageElement<`u`&&e instanceof HTMLImageElement||typeof HTMLCanvasElement<`u`&&e instanceof HTMLCanvasElement||typeof ImageBitmap<`u`&&e instanceof ImageBitmap){let t=va(`canvas`);t.width=e.width,t.height=e.height;let n=t.getContext(`2d`);n.drawImage(e,0,0,e.width,e.height);let r=n.getImageData(0,0,e.width,e.height),i=r.data;for(let e=0;e<i.length;e++)i[e]=fo(i[e]/255)*255;return n.putImageData(r,0,0),t}if(e.data){let t=e.data.slice(0);for(let e=0;e<t.length;e++)t instanceof Uint8Array||t instanceof Uint8ClampedArray?t[e]=Math.floor(fo(t[e]/255)*255):t[e]=fo(t[e]);return{data:t,width:e.width,height:e.height}}return X(`ImageUtils.sRGBToLinear(): Unsupported image type. No color space conversion applied.`),e}},go=0,_o=class{constructor(e=null){this.isTextureSource=!0,Object.defineProperty(this,"id",{value:go++}),this.uuid=Ma(),this.data=e,this.dataReady=!0,this.version=0}getSize(e){let t=this.data;return typeof HTMLVideoElement<`u`&&t instanceof HTMLVideoElement?e.set(t.videoWidth,t.videoHeight,0):typeof VideoFrame<`u`&&t instanceof VideoFrame?e.set(t.displayWidth,t.displayHeight,0):t===null?e.set(0,0,0):e.set(t.width||0,t.height||0,t.depth||0),e}set needsUpdate(e){e===!0&&this.version++}toJSON(e){let t=e===void 0||typeof e==`string`;if(!t&&e.images[this.uuid]!==void 0)return e.images[this.uuid];let n={uuid:this.uuid,url:``},r=this.data;if(r!==null){let e;if(Array.isArray(r)){e=[];for(let t=0,n=r.length;t<n;t++)r[t].isDataTexture?e.push(vo(r[t].image)):e.push(vo(r[t]))}else e=vo(r);n.url=e}return t||(e.images[this.uuid]=n),n}};function vo(e){return typeof HTMLImageElement<`u`&&e instanceof HTMLImageElement||typeof HTMLCanvasElement<`u`&&e instanceof HTMLCanvasElement||typeof ImageBitmap<`u`&&e instanceof ImageBitmap?ho.getDataURL(e):e.data?{data:Array.from(e.data),width:e.width,height:e.height,type:e.data.constructor.name}:(X(`Texture: Unable to serialize Texture.`),{})}var yo=0,bo=new Q,xo=class e extends Da{constructor(t=e.DEFAULT_IMAGE,n=e.DEFAULT_MAPPING,r=Hr,i=Hr,a=qr,o=Yr,s=di,c=Xr,l=e.DEFAULT_ANISOTROPY,u=``){super(),this.isTexture=!0,Object.defineProperty(this,"id",{value:yo++}),this.uuid=Ma(),this.name=``,this.source=new _o(t),this.mipmaps=[],this.mapping=n,this.channel=0,this.wrapS=r,this.wrapT=i,this.magFilter=a,this.minFilter=o,this.anisotropy=l,this.format=s,this.internalFormat=null,this.type=c,this.offset=new Z(0,0),this.repeat=new Z(1,1),this.center=new Z(0,0),this.rotation=0,this.matrixAutoUpdate=!0,this.matrix=new ao,this.generateMipmaps=!0,this.mipmapsAutoUpdate=!0,this.premultiplyAlpha=!1,this.flipY=!0,this.unpackAlignment=4,this.colorSpace=u,this.userData={},this.updateRanges=[],this.version=0,this.onUpdate=null,this.renderTarget=null,this.isRenderTargetTexture=!1,this.isArrayTexture=!!(t&&t.depth&&t.depth>1),this.pmremVersion=0,this.isPMREMTexture=!1,this.normalized=!1}get width(){return this.source.getSize(bo).x}get height(){return this.source.getSize(bo).y}get depth(){return this.source.getSize(bo).z}get image(){return this.source.data}set image(e){this.source.data=e}updateMatrix(){this.matrix.setUvTransform(this.offset.x,this.offset.y,this.repeat.x,this.repeat.y,this.rotation,this.center.x,this.center.y)}addUpdateRange(e,t){this.updateRanges.push({start:e,count:t})}clearUpdateRanges(){this.updateRanges.length=0}clone(){return new this.constructor().copy(this)}copy(e){return this.name=e.name,this.source=e.source,this.mipmaps=e.mipmaps.slice(0),this.mapping=e.mapping,this.channel=e.channel,this.wrapS=e.wrapS,this.wrapT=e.wrapT,this.magFilter=e.magFilter,this.minFilter=e.minFilter,this.anisotropy=e.anisotropy,this.format=e.format,this.internalFormat=e.internalFormat,this.type=e.type,this.normalized=e.normalized,this.offset.copy(e.offset),this.repeat.copy(e.repeat),this.center.copy(e.center),this.rotation=e.rotation,this.matrixAutoUpdate=e.matrixAutoUpdate,this.matrix.copy(e.matrix),this.generateMipmaps=e.generateMipmaps,this.mipmapsAutoUpdate=e.mipmapsAutoUpdate,this.premultiplyAlpha=e.premultiplyAlpha,this.flipY=e.flipY,this.unpackAlignment=e.unpackAlignment,this.colorSpace=e.colorSpace,this.renderTarget=e.renderTarget,this.isRenderTargetTexture=e.isRenderTargetTexture,this.isPMREMTexture=e.isPMREMTexture,this.isArrayTexture=e.isArrayTexture,this.userData=JSON.parse(JSON.stringify(e.userData)),this.needsUpdate=!0,this}setValues(e){for(let t in e){let n=e[t];if(n===void 0){X(`Texture.setValues(): parameter '${t}' has value of undefined.`);continue}let r=this[t];r===void 0?X(`Texture.setValues(): property '${t}' does not exist.`):r&&n&&r.isVector2&&n.isVector2||r&&n&&r.isVector3&&n.isVector3||r&&n&&r.isMatrix3&&n.isMatrix3?r.copy(n):this[t]=n}}toJSON(e){let t=e===void 0||typeof e==`string`;if(!t&&e.textures[this.uuid]!==void 0)return e.textures[this.uuid];let n={metadata:{version:4.7,type:`Texture`,generator:`Texture.toJSON`},uuid:this.uuid,name:this.name,image:this.source.toJSON(e).uuid,mapping:this.mapping,channel:this.channel,repeat:[this.repeat.x,this.repeat.y],offset:[this.offset.x,this.offset.y],center:[this.center.x,this.center.y],rotation:this.rotation,wrap:[this.wrapS,this.wrapT],format:this.format,internalFormat:this.internalFormat,type:this.type,normalized:this.normalized,colorSpace:this.colorSpace,minFilter:this.minFilter,magFilter:this.magFilter,anisotropy:this.anisotropy,flipY:this.flipY,generateMipmaps:this.generateMipmaps,mipmapsAutoUpdate:this.mipmapsAutoUpdate,premultiplyAlpha:this.premultiplyAlpha,unpackAlignment:this.unpackAlignment};return Object.keys(this.userData).length>0&&(n.userData=this.userData),t||(e.textures[this.uuid]=n),n}dispose(){this.dispatchEvent({type:`dispose`})}transformUv(e){if(this.mapping!==300)return e;if(e.applyMatrix3(this.matrix),e.x<0||e.x>1)switch(this.wrapS){case Vr:e.x-=Math.floor(e.x);break;case Hr:e.x=e.x<0?0:1;break;case Ur:Math.abs(Math.floor(e.x)%2)===1?e.x=Math.ceil(e.x)-e.x:e.x-=Math.floor(e.x)}if(e.y<0||e.y>1)switch(this.wrapT){case Vr:e.y-=Math.floor(e.y);break;case Hr:e.y=e.y<0?0:1;break;case Ur:Math.abs(Math.floor(e.y)%2)===1?e.y=Math.ceil(e.y)-e.y:e.y-=Math.floor(e.y)}return this.flipY&&(e.y=1-e.y),e}set needsUpdate(e){e===!0&&(this.version++,this.source.needsUpdate=!0)}set needsPMREMUpdate(e){e===!0&&this.pmremVersion++}};xo.DEFAULT_IMAGE=null,xo.DEFAULT_MAPPING=300,xo.DEFAULT_ANISOTROPY=1;var So=class{static{this.prototype.isVector4=!0}constructor(e=0,t=0,n=0,r=1){this.x=e,this.y=t,this.z=n,this.w=r}get width(){return this.z}set width(e){this.z=e}get height(){return this.w}set height(e){this.w=e}set(e,t,n,r){return this.x=e,this.y=t,this.z=n,this.w=r,this}setScalar(e){return this.x=e,this.y=e,this.z=e,this.w=e,this}setX(e){return this.x=e,this}setY(e){return this.y=e,this}setZ(e){return this.z=e,this}setW(e){return this.w=e,this}setComponent(e,t){switch(e){case 0:this.x=t;break;case 1:this.y=t;break;case 2:this.z=t;break;case 3:this.w=t;break;default:throw Error(`THREE.Vector4: index is out of range: `+e)}return this}getComponent(e){switch(e){case 0:return this.x;case 1:return this.y;case 2:return this.z;case 3:return this.w;default:throw Error(`THREE.Vector4: index is out of range: `+e)}}clone(){return new this.constructor(this.x,this.y,this.z,this.w)}copy(e){return this.x=e.x,this.y=e.y,this.z=e.z,this.w=e.w===void 0?1:e.w,this}add(e){return this.x+=e.x,this.y+=e.y,this.z+=e.z,this.w+=e.w,this}addScalar(e){return this.x+=e,this.y+=e,this.z+=e,this.w+=e,this}addVectors(e,t){return this.x=e.x+t.x,this.y=e.y+t.y,this.z=e.z+t.z,this.w=e.w+t.w,this}addScaledVector(e,t){return this.x+=e.x*t,this.y+=e.y*t,this.z+=e.z*t,this.w+=e.w*t,this}sub(e){return this.x-=e.x,this.y-=e.y,this.z-=e.z,this.w-=e.w,this}subScalar(e){return this.x-=e,this.y-=e,this.z-=e,this.w-=e,this}subVectors(e,t){return this.x=e.x-t.x,this.y=e.y-t.y,this.z=e.z-t.z,this.w=e.w-t.w,this}multiply(e){return this.x*=e.x,this.y*=e.y,this.z*=e.z,this.w*=e.w,this}multiplyScalar(e){return this.x*=e,this.y*=e,this.z*=e,this.w*=e,this}applyMatrix4(e){let t=this.x,n=this.y,r=this.z,i=this.w,a=e.elements;return this.x=a[0]*t+a[4]*n+a[8]*r+a[12]*i,this.y=a[1]*t+a[5]*n+a[9]*r+a[13]*i,this.z=a[2]*t+a[6]*n+a[10]*r+a[14]*i,this.w=a[3]*t+a[7]*n+a[11]*r+a[15]*i,this}divide(e){return this.x/=e.x,this.y/=e.y,this.z/=e.z,this.w/=e.w,this}divideScalar(e){return this.multiplyScalar(1/e)}setAxisAngleFromQuaternion(e){this.w=2*Math.acos(e.w);let t=Math.sqrt(1-e.w*e.w);return t<1e-4?(this.x=1,this.y=0,this.z=0):(this.x=e.x/t,this.y=e.y/t,this.z=e.z/t),this}setAxisAngleFromRotationMatrix(e){let t,n,r,i,a=.01,o=.1,s=e.elements,c=s[0],l=s[4],u=s[8],d=s[1],f=s[5],p=s[9],m=s[2],h=s[6],g=s[10];if(Math.abs(l-d)<a&&Math.abs(u-m)<a&&Math.abs(p-h)<a){if(Math.abs(l+d)<o&&Math.abs(u+m)<o&&Math.abs(p+h)<o&&Math.abs(c+f+g-3)<o)return this.set(1,0,0,0),this;t=Math.PI;let e=(c+1)/2,s=(f+1)/2,_=(g+1)/2,v=(l+d)/4,y=(u+m)/4,b=(p+h)/4;return e>s&&e>_?e<a?(n=0,r=.707106781,i=.707106781):(n=Math.sqrt(e),r=v/n,i=y/n):s>_?s<a?(n=.707106781,r=0,i=.707106781):(r=Math.sqrt(s),n=v/r,i=b/r):_<a?(n=.707106781,r=.707106781,i=0):(i=Math.sqrt(_),n=y/i,r=b/i),this.set(n,r,i,t),this}let _=Math.sqrt((h-p)*(h-p)+(u-m)*(u-m)+(d-l)*(d-l));return Math.abs(_)<.001&&(_=1),this.x=(h-p)/_,this.y=(u-m)/_,this.z=(d-l)/_,this.w=Math.acos((c+f+g-1)/2),this}setFromMatrixPosition(e){let t=e.elements;return this.x=t[12],this.y=t[13],this.z=t[14],this.w=t[15],this}min(e){return this.x=Math.min(this.x,e.x),this.y=Math.min(this.y,e.y),this.z=Math.min(this.z,e.z),this.w=Math.min(this.w,e.w),this}max(e){return this.x=Math.max(this.x,e.x),this.y=Math.max(this.y,e.y),this.z=Math.max(this.z,e.z),this.w=Math.max(this.w,e.w),this}clamp(e,t){return this.x=Na(this.x,e.x,t.x),this.y=Na(this.y,e.y,t.y),this.z=Na(this.z,e.z,t.z),this.w=Na(this.w,e.w,t.w),this}clampScalar(e,t){return this.x=Na(this.x,e,t),this.y=Na(this.y,e,t),this.z=Na(this.z,e,t),this.w=Na(this.w,e,t),this}clampLength(e,t){let n=this.length();return this.divideScalar(n||1).multiplyScalar(Na(n,e,t))}floor(){return this.x=Math.floor(this.x),this.y=Math.floor(this.y),this.z=Math.floor(this.z),this.w=Math.floor(this.w),this}ceil(){return this.x=Math.ceil(this.x),this.y=Math.ceil(this.y),this.z=Math.ceil(this.z),this.w=Math.ceil(this.w),this}round(){return this.x=Math.round(this.x),this.y=Math.round(this.y),this.z=Math.round(this.z),this.w=Math.round(this.w),this}roundToZero(){return this.x=Math.trunc(this.x),this.y=Math.trunc(this.y),this.z=Math.trunc(this.z),this.w=Math.trunc(this.w),this}negate(){return this.x=-this.x,this.y=-this.y,this.z=-this.z,this.w=-this.w,this}dot(e){return this.x*e.x+this.y*e.y+this.z*e.z+this.w*e.w}lengthSq(){return this.x*this.x+this.y*this.y+this.z*this.z+this.w*this.w}length(){return Math.sqrt(this.x*this.x+this.y*this.y+this.z*this.z+this.w*this.w)}manhattanLength(){return Math.abs(this.x)+Math.abs(this.y)+Math.abs(this.z)+Math.abs(this.w)}normalize(){return this.divideScalar(this.length()||1)}setLength(e){return this.normalize().multiplyScalar(e)}lerp(e,t){return this.x+=(e.x-this.x)*t,this.y+=(e.y-this.y)*t,this.z+=(e.z-this.z)*t,this.w+=(e.w-this.w)*t,this}lerpVectors(e,t,n){return this.x=e.x+(t.x-e.x)*n,this.y=e.y+(t.y-e.y)*n,this.z=e.z+(t.z-e.z)*n,this.w=e.w+(t.w-e.w)*n,this}equals(e){return e.x===this.x&&e.y===this.y&&e.z===this.z&&e.w===this.w}fromArray(e,t=0){return this.x=e[t],this.y=e[t+1],this.z=e[t+2],this.w=e[t+3],this}toArray(e=[],t=0){return e[t]=this.x,e[t+1]=this.y,e[t+2]=this.z,e[t+3]=this.w,e}fromBufferAttribute(e,t){return this.x=e.getX(t),this.y=e.getY(t),this.z=e.getZ(t),this.w=e.getW(t),this}random(){return this.x=Math.random(),this.y=Math.random(),this.z=Math.random(),this.w=Math.random(),this}*[Symbol.iterator](){yield this.x,yield this.y,yield this.z,yield this.w}},Co=class extends Da{constructor(e=1,t=1,n={}){super(),n=Object.assign({generateMipmaps:!1,internalFormat:null,minFilter:qr,depthBuffer:!0,stencilBuffer:!1,resolveColorBuffer:!0,resolveDepthBuffer:!0,resolveStencilBuffer:!0,storeMultisampledColorBuffer:!0,storeMultisampledDepthBuffer:!0,storeMultisampledStencilBuffer:!0,depthTexture:null,samples:0,count:1,depth:1,multiview:!1,useArrayDepthTexture:!1},n),this.isRenderTarget=!0,this.width=e,this.height=t,this.depth=n.depth,this.scissor=new So(0,0,e,t),this.scissorTest=!1,this.viewport=new So(0,0,e,t),this.textures=[];let r=n.count;for(let i=0;i<r;i++)this.textures[i]=new xo({width:e,height:t,depth:n.depth}),this.textures[i].isRenderTargetTexture=!0,this.textures[i].renderTarget=this;this._setTextureOptions(n),this.depthBuffer=n.depthBuffer,this.stencilBuffer=n.stencilBuffer,this.resolveColorBuffer=n.resolveColorBuffer,this.resolveDepthBuffer=n.resolveDepthBuffer,this.resolveStencilBuffer=n.resolveStencilBuffer,this.storeMultisampledColorBuffer=n.storeMultisampledColorBuffer,this.storeMultisampledDepthBuffer=n.storeMultisampledDepthBuffer,this.storeMultisampledStencilBuffer=n.storeMultisampledStencilBuffer,this._depthTexture=null,this.depthTexture=n.depthTexture,this.samples=n.samples,this.multiview=n.multiview,this.useArrayDepthTexture=n.useArrayDepthTexture}_setTextureOptions(e={}){let t={minFilter:qr,generateMipmaps:!1,flipY:!1,internalFormat:null};e.mapping!==void 0&&(t.mapping=e.mapping),e.wrapS!==void 0&&(t.wrapS=e.wrapS),e.wrapT!==void 0&&(t.wrapT=e.wrapT),e.wrapR!==void 0&&(t.wrapR=e.wrapR),e.magFilter!==void 0&&(t.magFilter=e.magFilter),e.minFilter!==void 0&&(t.minFilter=e.minFilter),e.format!==void 0&&(t.format=e.format),e.type!==void 0&&(t.type=e.type),e.anisotropy!==void 0&&(t.anisotropy=e.anisotropy),e.colorSpace!==void 0&&(t.colorSpace=e.colorSpace),e.flipY!==void 0&&(t.flipY=e.flipY),e.generateMipmaps!==void 0&&(t.generateMipmaps=e.generateMipmaps),e.mipmapsAutoUpdate!==void 0&&(t.mipmapsAutoUpdate=e.mipmapsAutoUpdate),e.internalFormat!==void 0&&(t.internalFormat=e.internalFormat);for(let e=0;e<this.textures.length;e++)this.textures[e].setValues(t)}get texture(){return this.textures[0]}set texture(e){this.textures[0]=e}set depthTexture(e){this._depthTexture!==null&&this._depthTexture.renderTarget===this&&(this._depthTexture.renderTarget=null),e!==null&&e.renderTarget===null&&(e.renderTarget=this),this._depthTexture=e}get depthTexture(){return this._depthTexture}setSize(e,t,n=1){if(this.width!==e||this.height!==t||this.depth!==n){this.width=e,this.height=t,this.depth=n;for(let r=0,i=this.textures.length;r<i;r++)this.textures[r].image.width=e,this.textures[r].image.height=t,this.textures[r].image.depth=n,this.textures[r].isData3DTexture!==!0&&(this.textures[r].isArrayTexture=this.textures[r].image.depth>1);this.dispose()}this.viewport.set(0,0,e,t),this.scissor.set(0,0,e,t)}clone(){return new this.constructor().copy(this)}copy(e){this.width=e.width,this.height=e.height,this.depth=e.depth,this.scissor.copy(e.scissor),this.scissorTest=e.scissorTest,this.viewport.copy(e.viewport),this.textures.length=0;for(let t=0,n=e.textures.length;t<n;t++){this.textures[t]=e.textures[t].clone(),this.textures[t].isRenderTargetTexture=!0,this.textures[t].renderTarget=this;let n=Object.assign({},e.textures[t].image);this.textures[t].source=new _o(n)}if(this.depthBuffer=e.depthBuffer,this.stencilBuffer=e.stencilBuffer,this.resolveColorBuffer=e.resolveColorBuffer,this.resolveDepthBuffer=e.resolveDepthBuffer,this.resolveStencilBuffer=e.resolveStencilBuffer,this.storeMultisampledColorBuffer=e.storeMultisampledColorBuffer,this.storeMultisampledDepthBuffer=e.storeMultisampledDepthBuffer,this.storeMultisampledStencilBuffer=e.storeMultisampledStencilBuffer,e.depthTexture!==null){if(e.depthTexture.renderTarget===e){let t=e.depthTexture.clone();t.renderTarget=null,this.depthTexture=t}else this.depthTexture=e.depthTexture}else this.depthTexture=null;return this.samples=e.samples,this.multiview=e.multiview,this.useArrayDepthTexture=e.useArrayDepthTexture,this}dispose(){this.dispatchEvent({type:`dispose`})}},wo=class extends Co{constructor(e=1,t=1,n={}){super(e,t,n),this.isWebGLRenderTarget=!0}},To=class extends xo{constructor(e=null,t=1,n=1,r=1){super(null),this.isDataArrayTexture=!0,this.image={data:e,width:t,height:n,depth:r},this.magFilter=Wr,this.minFilter=Wr,this.wrapR=Hr,this.generateMipmaps=!1,this.flipY=!1,this.unpackAlignment=1,this.layerUpdates=new Set}copy(e){return super.copy(e),this.wrapR=e.wrapR,this}addLayerUpdate(e){this.layerUpdates.add(e)}clearLayerUpdates(){this.layerUpdates.clear()}},Eo=class extends xo{constructor(e=null,t=1,n=1,r=1){super(null),this.isData3DTexture=!0,this.image={data:e,width:t,height:n,depth:r},this.magFilter=Wr,this.minFilter=Wr,this.wrapR=Hr,this.generateMipmaps=!1,this.flipY=!1,this.unpackAlignment=1}copy(e){return super.copy(e),this.wrapR=e.wrapR,this}},Do=class e{static{this.prototype.isMatrix4=!0}constructor(e,t,n,r,i,a,o,s,c,l,u,d,f,p,m,h){this.elements=[1,0,0,0,0,1,0,0,0,0,1,0,0,0,0,1],e!==void 0&&this.set(e,t,n,r,i,a,o,s,c,l,u,d,f,p,m,h)}set(e,t,n,r,i,a,o,s,c,l,u,d,f,p,m,h){let g=this.elements;return g[0]=e,g[4]=t,g[8]=n,g[12]=r,g[1]=i,g[5]=a,g[9]=o,g[13]=s,g[2]=c,g[6]=l,g[10]=u,g[14]=d,g[3]=f,g[7]=p,g[11]=m,g[15]=h,this}identity(){return this.set(1,0,0,0,0,1,0,0,0,0,1,0,0,0,0,1),this}clone(){return new e().fromArray(this.elements)}copy(e){let t=this.elements,n=e.elements;return t[0]=n[0],t[1]=n[1],t[2]=n[2],t[3]=n[3],t[4]=n[4],t[5]=n[5],t[6]=n[6],t[7]=n[7],t[8]=n[8],t[9]=n[9],t[10]=n[10],t[11]=n[11],t[12]=n[12],t[13]=n[13],t[14]=n[14],t[15]=n[15],this}copyPosition(e){let t=this.elements,n=e.elements;return t[12]=n[12],t[13]=n[13],t[14]=n[14],this}setFromMatrix3(e){let t=e.elements;return this.set(t[0],t[3],t[6],0,t[1],t[4],t[7],0,t[2],t[5],t[8],0,0,0,0,1),this}extractBasis(e,t,n){return this.determinantAffine()===0?(e.set(1,0,0),t.set(0,1,0),n.set(0,0,1),this):(e.setFromMatrixColumn(this,0),t.setFromMatrixColumn(this,1),n.setFromMatrixColumn(this,2),this)}makeBasis(e,t,n){return this.set(e.x,t.x,n.x,0,e.y,t.y,n.y,0,e.z,t.z,n.z,0,0,0,0,1),this}extractRotation(e){if(e.determinantAffine()===0)return this.identity();let t=this.elements,n=e.elements,r=1/Oo.setFromMatrixColumn(e,0).length(),i=1/Oo.setFromMatrixColumn(e,1).length(),a=1/Oo.setFromMatrixColumn(e,2).length();return t[0]=n[0]*r,t[1]=n[1]*r,t[2]=n[2]*r,t[3]=0,t[4]=n[4]*i,t[5]=n[5]*i,t[6]=n[6]*i,t[7]=0,t[8]=n[8]*a,t[9]=n[9]*a,t[10]=n[10]*a,t[11]=0,t[12]=0,t[13]=0,t[14]=0,t[15]=1,this}makeRotationFromEuler(e){let t=this.elements,n=e.x,r=e.y,i=e.z,a=Math.cos(n),o=Math.sin(n),s=Math.cos(r),c=Math.sin(r),l=Math.cos(i),u=Math.sin(i);if(e.order===`XYZ`){let e=a*l,n=a*u,r=o*l,i=o*u;t[0]=s*l,t[4]=-s*u,t[8]=c,t[1]=n+r*c,t[5]=e-i*c,t[9]=-o*s,t[2]=i-e*c,t[6]=r+n*c,t[10]=a*s}else if(e.order===`YXZ`){let e=s*l,n=s*u,r=c*l,i=c*u;t[0]=e+i*o,t[4]=r*o-n,t[8]=a*c,t[1]=a*u,t[5]=a*l,t[9]=-o,t[2]=n*o-r,t[6]=i+e*o,t[10]=a*s}else if(e.order===`ZXY`){let e=s*l,n=s*u,r=c*l,i=c*u;t[0]=e-i*o,t[4]=-a*u,t[8]=r+n*o,t[1]=n+r*o,t[5]=a*l,t[9]=i-e*o,t[2]=-a*c,t[6]=o,t[10]=a*s}else if(e.order===`ZYX`){let e=a*l,n=a*u,r=o*l,i=o*u;t[0]=s*l,t[4]=r*c-n,t[8]=e*c+i,t[1]=s*u,t[5]=i*c+e,t[9]=n*c-r,t[2]=-c,t[6]=o*s,t[10]=a*s}else if(e.order===`YZX`){let e=a*s,n=a*c,r=o*s,i=o*c;t[0]=s*l,t[4]=i-e*u,t[8]=r*u+n,t[1]=u,t[5]=a*l,t[9]=-o*l,t[2]=-c*l,t[6]=n*u+r,t[10]=e-i*u}else if(e.order===`XZY`){let e=a*s,n=a*c,r=o*s,i=o*c;t[0]=s*l,t[4]=-u,t[8]=c*l,t[1]=e*u+i,t[5]=a*l,t[9]=n*u-r,t[2]=r*u-n,t[6]=o*l,t[10]=i*u+e}return t[3]=0,t[7]=0,t[11]=0,t[12]=0,t[13]=0,t[14]=0,t[15]=1,this}makeRotationFromQuaternion(e){return this.compose(Ao,e,jo)}lookAt(e,t,n){let r=this.elements;return Po.subVectors(e,t),Po.lengthSq()===0&&(Po.z=1),Po.normalize(),Mo.crossVectors(n,Po),Mo.lengthSq()===0&&(Math.abs(n.z)===1?Po.x+=1e-4:Po.z+=1e-4,Po.normalize(),Mo.crossVectors(n,Po)),Mo.normalize(),No.crossVectors(Po,Mo),r[0]=Mo.x,r[4]=No.x,r[8]=Po.x,r[1]=Mo.y,r[5]=No.y,r[9]=Po.y,r[2]=Mo.z,r[6]=No.z,r[10]=Po.z,this}multiply(e){return this.multiplyMatrices(this,e)}premultiply(e){return this.multiplyMatrices(e,this)}multiplyMatrices(e,t){let n=e.elements,r=t.elements,i=this.elements,a=n[0],o=n[4],s=n[8],c=n[12],l=n[1],u=n[5],d=n[9],f=n[13],p=n[2],m=n[6],h=n[10],g=n[14],_=n[3],v=n[7],y=n[11],b=n[15],x=r[0],S=r[4],C=r[8],w=r[12],T=r[1],E=r[5],D=r[9],O=r[13],k=r[2],A=r[6],j=r[10],M=r[14],N=r[3],ee=r[7],te=r[11],ne=r[15];return i[0]=a*x+o*T+s*k+c*N,i[4]=a*S+o*E+s*A+c*ee,i[8]=a*C+o*D+s*j+c*te,i[12]=a*w+o*O+s*M+c*ne,i[1]=l*x+u*T+d*k+f*N,i[5]=l*S+u*E+d*A+f*ee,i[9]=l*C+u*D+d*j+f*te,i[13]=l*w+u*O+d*M+f*ne,i[2]=p*x+m*T+h*k+g*N,i[6]=p*S+m*E+h*A+g*ee,i[10]=p*C+m*D+h*j+g*te,i[14]=p*w+m*O+h*M+g*ne,i[3]=_*x+v*T+y*k+b*N,i[7]=_*S+v*E+y*A+b*ee,i[11]=_*C+v*D+y*j+b*te,i[15]=_*w+v*O+y*M+b*ne,this}multiplyScalar(e){let t=this.elements;return t[0]*=e,t[4]*=e,t[8]*=e,t[12]*=e,t[1]*=e,t[5]*=e,t[9]*=e,t[13]*=e,t[2]*=e,t[6]*=e,t[10]*=e,t[14]*=e,t[3]*=e,t[7]*=e,t[11]*=e,t[15]*=e,this}determinant(){let e=this.elements,t=e[0],n=e[4],r=e[8],i=e[12],a=e[1],o=e[5],s=e[9],c=e[13],l=e[2],u=e[6],d=e[10],f=e[14],p=e[3],m=e[7],h=e[11],g=e[15],_=s*f-c*d,v=o*f-c*u,y=o*d-s*u,b=a*f-c*l,x=a*d-s*l,S=a*u-o*l;return t*(m*_-h*v+g*y)-n*(p*_-h*b+g*x)+r*(p*v-m*b+g*S)-i*(p*y-m*x+h*S)}determinantAffine(){let e=this.elements,t=e[0],n=e[4],r=e[8],i=e[1],a=e[5],o=e[9],s=e[2],c=e[6],l=e[10];return t*(a*l-o*c)-n*(i*l-o*s)+r*(i*c-a*s)}transpose(){let e=this.elements,t;return t=e[1],e[1]=e[4],e[4]=t,t=e[2],e[2]=e[8],e[8]=t,t=e[6],e[6]=e[9],e[9]=t,t=e[3],e[3]=e[12],e[12]=t,t=e[7],e[7]=e[13],e[13]=t,t=e[11],e[11]=e[14],e[14]=t,this}setPosition(e,t,n){let r=this.elements;return e.isVector3?(r[12]=e.x,r[13]=e.y,r[14]=e.z):(r[12]=e,r[13]=t,r[14]=n),this}invert(){let e=this.elements,t=e[0],n=e[1],r=e[2],i=e[3],a=e[4],o=e[5],s=e[6],c=e[7],l=e[8],u=e[9],d=e[10],f=e[11],p=e[12],m=e[13],h=e[14],g=e[15],_=t*o-n*a,v=t*s-r*a,y=t*c-i*a,b=n*s-r*o,x=n*c-i*o,S=r*c-i*s,C=l*m-u*p,w=l*h-d*p,T=l*g-f*p,E=u*h-d*m,D=u*g-f*m,O=d*g-f*h,k=_*O-v*D+y*E+b*T-x*w+S*C;if(k===0)return this.set(0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0);let A=1/k;return e[0]=(o*O-s*D+c*E)*A,e[1]=(r*D-n*O-i*E)*A,e[2]=(m*S-h*x+g*b)*A,e[3]=(d*x-u*S-f*b)*A,e[4]=(s*T-a*O-c*w)*A,e[5]=(t*O-r*T+i*w)*A,e[6]=(h*y-p*S-g*v)*A,e[7]=(l*S-d*y+f*v)*A,e[8]=(a*D-o*T+c*C)*A,e[9]=(n*T-t*D-i*C)*A,e[10]=(p*x-m*y+g*_)*A,e[11]=(u*y-l*x-f*_)*A,e[12]=(o*w-a*E-s*C)*A,e[13]=(t*E-n*w+r*C)*A,e[14]=(m*v-p*b-h*_)*A,e[15]=(l*b-u*v+d*_)*A,this}scale(e){let t=this.elements,n=e.x,r=e.y,i=e.z;return t[0]*=n,t[4]*=r,t[8]*=i,t[1]*=n,t[5]*=r,t[9]*=i,t[2]*=n,t[6]*=r,t[10]*=i,t[3]*=n,t[7]*=r,t[11]*=i,this}getMaxScaleOnAxis(){let e=this.elements,t=e[0]*e[0]+e[1]*e[1]+e[2]*e[2],n=e[4]*e[4]+e[5]*e[5]+e[6]*e[6],r=e[8]*e[8]+e[9]*e[9]+e[10]*e[10];return Math.sqrt(Math.max(t,n,r))}makeTranslation(e,t,n){return e.isVector3?this.set(1,0,0,e.x,0,1,0,e.y,0,0,1,e.z,0,0,0,1):this.set(1,0,0,e,0,1,0,t,0,0,1,n,0,0,0,1),this}makeRotationX(e){let t=Math.cos(e),n=Math.sin(e);return this.set(1,0,0,0,0,t,-n,0,0,n,t,0,0,0,0,1),this}makeRotationY(e){let t=Math.cos(e),n=Math.sin(e);return this.set(t,0,n,0,0,1,0,0,-n,0,t,0,0,0,0,1),this}makeRotationZ(e){let t=Math.cos(e),n=Math.sin(e);return this.set(t,-n,0,0,n,t,0,0,0,0,1,0,0,0,0,1),this}makeRotationAxis(e,t){let n=Math.cos(t),r=Math.sin(t),i=1-n,a=e.x,o=e.y,s=e.z,c=i*a,l=i*o;return this.set(c*a+n,c*o-r*s,c*s+r*o,0,c*o+r*s,l*o+n,l*s-r*a,0,c*s-r*o,l*s+r*a,i*s*s+n,0,0,0,0,1),this}makeScale(e,t,n){return this.set(e,0,0,0,0,t,0,0,0,0,n,0,0,0,0,1),this}makeShear(e,t,n,r,i,a){return this.set(1,n,i,0,e,1,a,0,t,r,1,0,0,0,0,1),this}compose(e,t,n){let r=this.elements,i=t._x,a=t._y,o=t._z,s=t._w,c=i+i,l=a+a,u=o+o,d=i*c,f=i*l,p=i*u,m=a*l,h=a*u,g=o*u,_=s*c,v=s*l,y=s*u,b=n.x,x=n.y,S=n.z;return r[0]=(1-(m+g))*b,r[1]=(f+y)*b,r[2]=(p-v)*b,r[3]=0,r[4]=(f-y)*x,r[5]=(1-(d+g))*x,r[6]=(h+_)*x,r[7]=0,r[8]=(p+v)*S,r[9]=(h-_)*S,r[10]=(1-(d+m))*S,r[11]=0,r[12]=e.x,r[13]=e.y,r[14]=e.z,r[15]=1,this}decompose(e,t,n){let r=this.elements;e.x=r[12],e.y=r[13],e.z=r[14];let i=this.determinantAffine();if(i===0)return n.set(1,1,1),t.identity(),this;let a=Oo.set(r[0],r[1],r[2]).length(),o=Oo.set(r[4],r[5],r[6]).length(),s=Oo.set(r[8],r[9],r[10]).length();i<0&&(a=-a),ko.copy(this);let c=1/a,l=1/o,u=1/s;return ko.elements[0]*=c,ko.elements[1]*=c,ko.elements[2]*=c,ko.elements[4]*=l,ko.elements[5]*=l,ko.elements[6]*=l,ko.elements[8]*=u,ko.elements[9]*=u,ko.elements[10]*=u,t.setFromRotationMatrix(ko),n.x=a,n.y=o,n.z=s,this}makePerspective(e,t,n,r,i,a,o=ha,s=!1){let c=this.elements,l=2*i/(t-e),u=2*i/(n-r),d=(t+e)/(t-e),f=(n+r)/(n-r),p,m;if(s)p=i/(a-i),m=a*i/(a-i);else if(o===2e3)p=-(a+i)/(a-i),m=-2*a*i/(a-i);else if(o===2001)p=-a/(a-i),m=-a*i/(a-i);else throw Error(`THREE.Matrix4.makePerspective(): Invalid coordinate system: `+o);return c[0]=l,c[4]=0,c[8]=d,c[12]=0,c[1]=0,c[5]=u,c[9]=f,c[13]=0,c[2]=0,c[6]=0,c[10]=p,c[14]=m,c[3]=0,c[7]=0,c[11]=-1,c[15]=0,this}makeOrthographic(e,t,n,r,i,a,o=ha,s=!1){let c=this.elements,l=2/(t-e),u=2/(n-r),d=-(t+e)/(t-e),f=-(n+r)/(n-r),p,m;if(s)p=1/(a-i),m=a/(a-i);else if(o===2e3)p=-2/(a-i),m=-(a+i)/(a-i);else if(o===2001)p=-1/(a-i),m=-i/(a-i);else throw Error(`THREE.Matrix4.makeOrthographic(): Invalid coordinate system: `+o);return c[0]=l,c[4]=0,c[8]=0,c[12]=d,c[1]=0,c[5]=u,c[9]=0,c[13]=f,c[2]=0,c[6]=0,c[10]=p,c[14]=m,c[3]=0,c[7]=0,c[11]=0,c[15]=1,this}equals(e){let t=this.elements,n=e.elements;for(let e=0;e<16;e++)if(t[e]!==n[e])return!1;return!0}fromArray(e,t=0){for(let n=0;n<16;n++)this.elements[n]=e[n+t];return this}toArray(e=[],t=0){let n=this.elements;return e[t]=n[0],e[t+1]=n[1],e[t+2]=n[2],e[t+3]=n[3],e[t+4]=n[4],e[t+5]=n[5],e[t+6]=n[6],e[t+7]=n[7],e[t+8]=n[8],e[t+9]=n[9],e[t+10]=n[10],e[t+11]=n[11],e[t+12]=n[12],e[t+13]=n[13],e[t+14]=n[14],e[t+15]=n[15],e}},Oo=new Q,ko=new Do,Ao=new Q(0,0,0),jo=new Q(1,1,1),Mo=new Q,No=new Q,Po=new Q,Fo=new Do,Io=new no,Lo=class e{constructor(t=0,n=0,r=0,i=e.DEFAULT_ORDER){this.isEuler=!0,this._x=t,this._y=n,this._z=r,this._order=i}get x(){return this._x}set x(e){this._x=e,this._onChangeCallback()}get y(){return this._y}set y(e){this._y=e,this._onChangeCallback()}get z(){return this._z}set z(e){this._z=e,this._onChangeCallback()}get order(){return this._order}set order(e){this._order=e,this._onChangeCallback()}set(e,t,n,r=this._order){return this._x=e,this._y=t,this._z=n,this._order=r,this._onChangeCallback(),this}clone(){return new this.constructor(this._x,this._y,this._z,this._order)}copy(e){return this._x=e._x,this._y=e._y,this._z=e._z,this._order=e._order,this._onChangeCallback(),this}setFromRotationMatrix(e,t=this._order,n=!0){let r=e.elements,i=r[0],a=r[4],o=r[8],s=r[1],c=r[5],l=r[9],u=r[2],d=r[6],f=r[10];switch(t){case`XYZ`:this._y=Math.asin(Na(o,-1,1)),Math.abs(o)<.9999999?(this._x=Math.atan2(-l,f),this._z=Math.atan2(-a,i)):(this._x=Math.atan2(d,c),this._z=0);break;case`YXZ`:this._x=Math.asin(-Na(l,-1,1)),Math.abs(l)<.9999999?(this._y=Math.atan2(o,f),this._z=Math.atan2(s,c)):(this._y=Math.atan2(-u,i),this._z=0);break;case`ZXY`:this._x=Math.asin(Na(d,-1,1)),Math.abs(d)<.9999999?(this._y=Math.atan2(-u,f),this._z=Math.atan2(-a,c)):(this._y=0,this._z=Math.atan2(s,i));break;case`ZYX`:this._y=Math.asin(-Na(u,-1,1)),Math.abs(u)<.9999999?(this._x=Math.atan2(d,f),this._z=Math.atan2(s,i)):(this._x=0,this._z=Math.atan2(-a,c));break;case`YZX`:this._z=Math.asin(Na(s,-1,1)),Math.abs(s)<.9999999?(this._x=Math.atan2(-l,c),this._y=Math.atan2(-u,i)):(this._x=0,this._y=Math.atan2(o,f));break;case`XZY`:this._z=Math.asin(-Na(a,-1,1)),Math.abs(a)<.9999999?(this._x=Math.atan2(d,c),this._y=Math.atan2(o,i)):(this._x=Math.atan2(-l,f),this._y=0);break;default:X(`Euler: .setFromRotationMatrix() encountered an unknown order: `+t)}return this._order=t,n===!0&&this._onChangeCallback(),this}setFromQuaternion(e,t,n){return Fo.makeRotationFromQuaternion(e),this.setFromRotationMatrix(Fo,t,n)}setFromVector3(e,t=this._order){return this.set(e.x,e.y,e.z,t)}reorder(e){return Io.setFromEuler(this),this.setFromQuaternion(Io,e)}equals(e){return e._x===this._x&&e._y===this._y&&e._z===this._z&&e._order===this._order}fromArray(e){return this._x=e[0],this._y=e[1],this._z=e[2],e[3]!==void 0&&(this._order=e[3]),this._onChangeCallback(),this}toArray(e=[],t=0){return e[t]=this._x,e[t+1]=this._y,e[t+2]=this._z,e[t+3]=this._order,e}_onChange(e){return this._onChangeCallback=e,this}_onChangeCallback(){}*[Symbol.iterator](){yield this._x,yield this._y,yield this._z,yield this._order}};Lo.DEFAULT_ORDER=`XYZ`;var Ro=class{constructor(){this.mask=1}set(e){this.mask=1<<e>>>0}enable(e){this.mask|=1<<e}enableAll(){this.mask=-1}toggle(e){this.mask^=1<<e}disable(e){this.mask&=~(1<<e)}disableAll(){this.mask=0}test(e){return(this.mask&e.mask)!==0}isEnabled(e){return!!(this.mask&1<<e)}},zo=0,Bo=new Q,Vo=new no,Ho=new Do,Uo=new Q,Wo=new Q,Go=new Q,Ko=new no,qo=new Q(1,0,0),Jo=new Q(0,1,0),Yo=new Q(0,0,1),Xo={type:`added`},Zo={type:`removed`},Qo={type:`childadded`,child:null},$o={type:`childremoved`,child:null},es=class e extends Da{constructor(){super(),this.isObject3D=!0,Object.defineProperty(this,"id",{value:zo++}),this.uuid=Ma(),this.name=``,this.type=`Object3D`,this.parent=null,this.children=[],this.up=e.DEFAULT_UP.clone();let t=new Q,n=new Lo,r=new no,i=new Q(1,1,1);function a(){r.setFromEuler(n,!1)}function o(){n.setFromQuaternion(r,void 0,!1)}n._onChange(a),r._onChange(o),Object.defineProperties(this,{position:{configurable:!0,enumerable:!0,value:t},rotation:{configurable:!0,enumerable:!0,value:n},quaternion:{configurable:!0,enumerable:!0,value:r},scale:{configurable:!0,enumerable:!0,value:i},modelViewMatrix:{value:new Do},normalMatrix:{value:new ao}}),this.matrix=new Do,this.matrixWorld=new Do,this.matrixAutoUpdate=e.DEFAULT_MATRIX_AUTO_UPDATE,this.matrixWorldAutoUpdate=e.DEFAULT_MATRIX_WORLD_AUTO_UPDATE,this.matrixWorldNeedsUpdate=!1,this.layers=new Ro,this.visible=!0,this.castShadow=!1,this.receiveShadow=!1,this.frustumCulled=!0,this.renderOrder=0,this.animations=[],this.customDepthMaterial=void 0,this.customDistanceMaterial=void 0,this.static=!1,this.userData={},this.pivot=null}onBeforeShadow(){}onAfterShadow(){}onBeforeRender(){}onAfterRender(){}applyMatrix4(e){this.matrixAutoUpdate&&this.updateMatrix(),this.matrix.premultiply(e),this.matrix.decompose(this.position,this.quaternion,this.scale),this.pivot!==null&&this.position.copy(this.pivot).applyMatrix4(this.matrix).sub(this.pivot)}applyQuaternion(e){return this.quaternion.premultiply(e),this}setRotationFromAxisAngle(e,t){this.quaternion.setFromAxisAngle(e,t)}setRotationFromEuler(e){this.quaternion.setFromEuler(e,!0)}setRotationFromMatrix(e){this.quaternion.setFromRotationMatrix(e)}setRotationFromQuaternion(e){this.quaternion.copy(e)}rotateOnAxis(e,t){return Vo.setFromAxisAngle(e,t),this.quaternion.multiply(Vo),this}rotateOnWorldAxis(e,t){return Vo.setFromAxisAngle(e,t),this.quaternion.premultiply(Vo),this}rotateX(e){return this.rotateOnAxis(qo,e)}rotateY(e){return this.rotateOnAxis(Jo,e)}rotateZ(e){return this.rotateOnAxis(Yo,e)}translateOnAxis(e,t){return Bo.copy(e).applyQuaternion(this.quaternion),this.position.add(Bo.multiplyScalar(t)),this}translateX(e){return this.translateOnAxis(qo,e)}translateY(e){return this.translateOnAxis(Jo,e)}translateZ(e){return this.translateOnAxis(Yo,e)}localToWorld(e){return this.updateWorldMatrix(!0,!1),e.applyMatrix4(this.matrixWorld)}worldToLocal(e){return this.updateWorldMatrix(!0,!1),e.applyMatrix4(Ho.copy(this.matrixWorld).invert())}lookAt(e,t,n){e.isVector3?Uo.copy(e):Uo.set(e,t,n);let r=this.parent;this.updateWorldMatrix(!0,!1),Wo.setFromMatrixPosition(this.matrixWorld),this.isCamera||this.isLight?Ho.lookAt(Wo,Uo,this.up):Ho.lookAt(Uo,Wo,this.up),this.quaternion.setFromRotationMatrix(Ho),r&&(Ho.extractRotation(r.matrixWorld),Vo.setFromRotationMatrix(Ho),this.quaternion.premultiply(Vo.invert()))}add(e){if(arguments.length>1){for(let e=0;e<arguments.length;e++)this.add(arguments[e]);return this}return e===this?(Ca(`Object3D.add: object can't be added as a child of itself.`,e),this):(e&&e.isObject3D?(e.removeFromParent(),e.parent=this,this.children.push(e),e.dispatchEvent(Xo),Qo.child=e,this.dispatchEvent(Qo),Qo.child=null):Ca(`Object3D.add: object not an instance of THREE.Object3D.`,e),this)}remove(e){if(arguments.length>1){for(let e=0;e<arguments.length;e++)this.remove(arguments[e]);return this}let t=this.children.indexOf(e);return t!==-1&&(e.parent=null,this.children.splice(t,1),e.dispatchEvent(Zo),$o.child=e,this.dispatchEvent($o),$o.child=null),this}removeFromParent(){let e=this.parent;return e!==null&&e.remove(this),this}clear(){return this.remove(...this.children)}attach(e){return this.updateWorldMatrix(!0,!1),Ho.copy(this.matrixWorld).invert(),e.parent!==null&&(e.parent.updateWorldMatrix(!0,!1),Ho.multiply(e.parent.matrixWorld)),e.applyMatrix4(Ho),e.removeFromParent(),e.parent=this,this.children.push(e),e.updateWorldMatrix(!1,!0),e.dispatchEvent(Xo),Qo.child=e,this.dispatchEvent(Qo),Qo.child=null,this}getObjectById(e){return this.getObjectByProperty(`id`,e)}getObjectByName(e){return this.getObjectByProperty(`name`,e)}getObjectByProperty(e,t){if(this[e]===t)return this;for(let n=0,r=this.children.length;n<r;n++){let r=this.children[n].getObjectByProperty(e,t);if(r!==void 0)return r}}getObjectsByProperty(e,t,n=[]){this[e]===t&&n.push(this);let r=this.children;for(let i=0,a=r.length;i<a;i++)r[i].getObjectsByProperty(e,t,n);return n}getWorldPosition(e){return this.updateWorldMatrix(!0,!1),e.setFromMatrixPosition(this.matrixWorld)}getWorldQuaternion(e){return this.updateWorldMatrix(!0,!1),this.matrixWorld.decompose(Wo,e,Go),e}getWorldScale(e){return this.updateWorldMatrix(!0,!1),this.matrixWorld.decompose(Wo,Ko,e),e}getWorldDirection(e){this.updateWorldMatrix(!0,!1);let t=this.matrixWorld.elements;return e.set(t[8],t[9],t[10]).normalize()}raycast(){}intersectsFrustum(){return!0}traverse(e){e(this);let t=this.children;for(let n=0,r=t.length;n<r;n++)t[n].traverse(e)}traverseVisible(e){if(this.visible===!1)return;e(this);let t=this.children;for(let n=0,r=t.length;n<r;n++)t[n].traverseVisible(e)}traverseAncestors(e){let t=this.parent;t!==null&&(e(t),t.traverseAncestors(e))}updateMatrix(){this.matrix.compose(this.position,this.quaternion,this.scale);let e=this.pivot;if(e!==null){let t=e.x,n=e.y,r=e.z,i=this.matrix.elements;i[12]+=t-i[0]*t-i[4]*n-i[8]*r,i[13]+=n-i[1]*t-i[5]*n-i[9]*r,i[14]+=r-i[2]*t-i[6]*n-i[10]*r}this.matrixWorldNeedsUpdate=!0}updateMatrixWorld(e){this.matrixAutoUpdate&&this.updateMatrix(),(this.matrixWorldNeedsUpdate||e)&&(this.matrixWorldAutoUpdate===!0&&(this.parent===null?this.matrixWorld.copy(this.matrix):this.matrixWorld.multiplyMatrices(this.parent.matrixWorld,this.matrix)),this.matrixWorldNeedsUpdate=!1,e=!0);let t=this.children;for(let n=0,r=t.length;n<r;n++)t[n].updateMatrixWorld(e)}updateWorldMatrix(e,t,n=!1){let r=this.parent;if(e===!0&&r!==null&&r.updateWorldMatrix(!0,!1),this.matrixAutoUpdate&&this.updateMatrix(),(this.matrixWorldNeedsUpdate||n)&&(this.matrixWorldAutoUpdate===!0&&(this.parent===null?this.matrixWorld.copy(this.matrix):this.matrixWorld.multiplyMatrices(this.parent.matrixWorld,this.matrix)),this.matrixWorldNeedsUpdate=!1,n=!0),t===!0){let e=this.children;for(let t=0,r=e.length;t<r;t++)e[t].updateWorldMatrix(!1,!0,n)}}toJSON(e){let t=e===void 0||typeof e==`string`,n={};t&&(e={geometries:{},materials:{},textures:{},images:{},shapes:{},skeletons:{},animations:{},nodes:{}},n.metadata={version:4.7,type:`Object`,generator:`Object3D.toJSON`});let r={};r.uuid=this.uuid,r.type=this.type,r.name=this.name,r.castShadow=this.castShadow,r.receiveShadow=this.receiveShadow,r.visible=this.visible,r.frustumCulled=this.frustumCulled,r.renderOrder=this.renderOrder,r.static=this.static,r.matrixAutoUpdate=this.matrixAutoUpdate,Object.keys(this.userData).length>0&&(r.userData=this.userData),r.layers=this.layers.mask,r.matrix=this.matrix.toArray(),r.up=this.up.toArray(),this.pivot!==null&&(r.pivot=this.pivot.toArray()),this.morphTargetDictionary!==void 0&&(r.morphTargetDictionary=Object.assign({},this.morphTargetDictionary)),this.morphTargetInfluences!==void 0&&(r.morphTargetInfluences=this.morphTargetInfluences.slice()),this.isInstancedMesh&&(r.type=`InstancedMesh`,r.count=this.count,r.instanceMatrix=this.instanceMatrix.toJSON(),this.instanceColor!==null&&(r.instanceColor=this.instanceColor.toJSON())),this.isBatchedMesh&&(r.type=`BatchedMesh`,r.perObjectFrustumCulled=this.perObjectFrustumCulled,r.sortObjects=this.sortObjects,r.drawRanges=this._drawRanges,r.reservedRanges=this._reservedRanges,r.geometryInfo=this._geometryInfo.map(e=>({...e,boundingBox:e.boundingBox?e.boundingBox.toJSON():void 0,boundingSphere:e.boundingSphere?e.boundingSphere.toJSON():void 0})),r.instanceInfo=this._instanceInfo.map(e=>({...e})),r.availableInstanceIds=this._availableInstanceIds.slice(),r.availableGeometryIds=this._availableGeometryIds.slice(),r.nextIndexStart=this._nextIndexStart,r.nextVertexStart=this._nextVertexStart,r.geometryCount=this._geometryCount,r.maxInstanceCount=this._maxInstanceCount,r.maxVertexCount=this._maxVertexCount,r.maxIndexCount=this._maxIndexCount,r.geometryInitialized=this._geometryInitialized,r.matricesTexture=this._matricesTexture.toJSON(e),r.indirectTexture=this._indirectTexture.toJSON(e),this._colorsTexture!==null&&(r.colorsTexture=this._colorsTexture.toJSON(e)),this.boundingSphere!==null&&(r.boundingSphere=this.boundingSphere.toJSON()),this.boundingBox!==null&&(r.boundingBox=this.boundingBox.toJSON()));function i(t,n){return t[n.uuid]===void 0&&(t[n.uuid]=n.toJSON(e)),n.uuid}if(this.isScene)this.background&&(this.background.isColor?r.background=this.background.toJSON():this.background.isTexture&&(r.background=this.background.toJSON(e).uuid)),this.environment&&this.environment.isTexture&&this.environment.isRenderTargetTexture!==!0&&(r.environment=this.environment.toJSON(e).uuid);else if(this.isMesh||this.isLine||this.isPoints){r.geometry=i(e.geometries,this.geometry);let t=this.geometry.parameters;if(t!==void 0&&t.shapes!==void 0){let n=t.shapes;if(Array.isArray(n))for(let t=0,r=n.length;t<r;t++){let r=n[t];i(e.shapes,r)}else i(e.shapes,n)}}if(this.isSkinnedMesh&&(r.bindMode=this.bindMode,r.bindMatrix=this.bindMatrix.toArray(),this.skeleton!==void 0&&(i(e.skeletons,this.skeleton),r.skeleton=this.skeleton.uuid)),this.material!==void 0){if(Array.isArray(this.material)){let t=[];for(let n=0,r=this.material.length;n<r;n++)t.push(i(e.materials,this.material[n]));r.material=t}else r.material=i(e.materials,this.material)}if(this.children.length>0){r.children=[];for(let t=0;t<this.children.length;t++)r.children.push(this.children[t].toJSON(e).object)}if(this.animations.length>0){r.animations=[];for(let t=0;t<this.animations.length;t++){let n=this.animations[t];r.animations.push(i(e.animations,n))}}if(t){let t=a(e.geometries),r=a(e.materials),i=a(e.textures),o=a(e.images),s=a(e.shapes),c=a(e.skeletons),l=a(e.animations),u=a(e.nodes);t.length>0&&(n.geometries=t),r.length>0&&(n.materials=r),i.length>0&&(n.textures=i),o.length>0&&(n.images=o),s.length>0&&(n.shapes=s),c.length>0&&(n.skeletons=c),l.length>0&&(n.animations=l),u.length>0&&(n.nodes=u)}return n.object=r,n;function a(e){let t=[];for(let n in e){let r=e[n];delete r.metadata,t.push(r)}return t}}clone(e){return new this.constructor().copy(this,e)}copy(e,t=!0){if(this.name=e.name,this.up.copy(e.up),this.position.copy(e.position),this.rotation.order=e.rotation.order,this.quaternion.copy(e.quaternion),this.scale.copy(e.scale),this.pivot=e.pivot===null?null:e.pivot.clone(),this.matrix.copy(e.matrix),this.matrixWorld.copy(e.matrixWorld),this.matrixAutoUpdate=e.matrixAutoUpdate,this.matrixWorldAutoUpdate=e.matrixWorldAutoUpdate,this.matrixWorldNeedsUpdate=e.matrixWorldNeedsUpdate,this.layers.mask=e.layers.mask,this.visible=e.visible,this.castShadow=e.castShadow,this.receiveShadow=e.receiveShadow,this.frustumCulled=e.frustumCulled,this.renderOrder=e.renderOrder,this.static=e.static,this.animations=e.animations.slice(),this.userData=JSON.parse(JSON.stringify(e.userData)),t===!0)for(let t=0;t<e.children.length;t++){let n=e.children[t];this.add(n.clone())}return this}dispose(){this.dispatchEvent({type:`dispose`})}};es.DEFAULT_UP=new Q(0,1,0),es.DEFAULT_MATRIX_AUTO_UPDATE=!0,es.DEFAULT_MATRIX_WORLD_AUTO_UPDATE=!0;var ts=class extends es{constructor(){super(),this.isGroup=!0,this.type=`Group`}},ns={type:`move`},rs=class{constructor(){this._targetRay=null,this._grip=null,this._hand=null}getHandSpace(){return this._hand===null&&(this._hand=new ts,this._hand.matrixAutoUpdate=!1,this._hand.visible=!1,this._hand.joints={},this._hand.inputState={pinching:!1}),this._hand}getTargetRaySpace(){return this._targetRay===null&&(this._targetRay=new ts,this._targetRay.matrixAutoUpdate=!1,this._targetRay.visible=!1,this._targetRay.hasLinearVelocity=!1,this._targetRay.linearVelocity=new Q,this._targetRay.hasAngularVelocity=!1,this._targetRay.angularVelocity=new Q),this._targetRay}getGripSpace(){return this._grip===null&&(this._grip=new ts,this._grip.matrixAutoUpdate=!1,this._grip.visible=!1,this._grip.hasLinearVelocity=!1,this._grip.linearVelocity=new Q,this._grip.hasAngularVelocity=!1,this._grip.angularVelocity=new Q,this._grip.eventsEnabled=!1),this._grip}dispatchEvent(e){return this._targetRay!==null&&this._targetRay.dispatchEvent(e),this._grip!==null&&this._grip.dispatchEvent(e),this._hand!==null&&this._hand.dispatchEvent(e),this}connect(e){if(e&&e.hand){let t=this._hand;if(t)for(let n of e.hand.values())this._getHandJoint(t,n)}return this.dispatchEvent({type:`connected`,data:e}),this}disconnect(e){return this.dispatchEvent({type:`disconnected`,data:e}),this._targetRay!==null&&(this._targetRay.visible=!1),this._grip!==null&&(this._grip.visible=!1),this._hand!==null&&(this._hand.visible=!1),this}update(e,t,n){let r=null,i=null,a=null,o=this._targetRay,s=this._grip,c=this._hand;if(e&&t.session.visibilityState!==`visible-blurred`){if(c&&e.hand){a=!0;for(let r of e.hand.values()){let e=t.getJointPose(r,n),i=this._getHandJoint(c,r);e!==null&&(i.matrix.fromArray(e.transform.matrix),i.matrix.decompose(i.position,i.quaternion,i.scale),i.matrixWorldNeedsUpdate=!0,i.jointRadius=e.radius),i.visible=e!==null}let r=c.joints[`index-finger-tip`],i=c.joints[`thumb-tip`],o=r.position.distanceTo(i.position);c.inputState.pinching&&o>.025?(c.inputState.pinching=!1,this.dispatchEvent({type:`pinchend`,handedness:e.handedness,target:this})):!c.inputState.pinching&&o<=.015&&(c.inputState.pinching=!0,this.dispatchEvent({type:`pinchstart`,handedness:e.handedness,target:this}))}else s!==null&&e.gripSpace&&(i=t.getPose(e.gripSpace,n),i!==null&&(s.matrix.fromArray(i.transform.matrix),s.matrix.decompose(s.position,s.quaternion,s.scale),s.matrixWorldNeedsUpdate=!0,i.linearVelocity?(s.hasLinearVelocity=!0,s.linearVelocity.copy(i.linearVelocity)):s.hasLinearVelocity=!1,i.angularVelocity?(s.hasAngularVelocity=!0,s.angularVelocity.copy(i.angularVelocity)):s.hasAngularVelocity=!1,s.eventsEnabled&&s.dispatchEvent({type:`gripUpdated`,data:e,target:this})));o!==null&&(r=t.getPose(e.targetRaySpace,n),r===null&&i!==null&&(r=i),r!==null&&(o.matrix.fromArray(r.transform.matrix),o.matrix.decompose(o.position,o.quaternion,o.scale),o.matrixWorldNeedsUpdate=!0,r.linearVelocity?(o.hasLinearVelocity=!0,o.linearVelocity.copy(r.linearVelocity)):o.hasLinearVelocity=!1,r.angularVelocity?(o.hasAngularVelocity=!0,o.angularVelocity.copy(r.angularVelocity)):o.hasAngularVelocity=!1,this.dispatchEvent(ns)))}return o!==null&&(o.visible=r!==null),s!==null&&(s.visible=i!==null),c!==null&&(c.visible=a!==null),this}_getHandJoint(e,t){if(e.joints[t.jointName]===void 0){let n=new ts;n.matrixAutoUpdate=!1,n.visible=!1,e.joints[t.jointName]=n,e.add(n)}return e.joints[t.jointName]}},is={aliceblue:15792383,antiquewhite:16444375,aqua:65535,aquamarine:8388564,azure:15794175,beige:16119260,bisque:16770244,black:0,blanchedalmond:16772045,blue:255,blueviolet:9055202,brown:10824234,burlywood:14596231,cadetblue:6266528,chartreuse:8388352,chocolate:13789470,coral:16744272,cornflowerblue:6591981,cornsilk:16775388,crimson:14423100,cyan:65535,darkblue:139,darkcyan:35723,darkgoldenrod:12092939,darkgray:11119017,darkgreen:25600,darkgrey:11119017,darkkhaki:12433259,darkmagenta:9109643,darkolivegreen:5597999,darkorange:16747520,darkorchid:10040012,darkred:9109504,darksalmon:15308410,darkseagreen:9419919,darkslateblue:4734347,darkslategray:3100495,darkslategrey:3100495,darkturquoise:52945,darkviolet:9699539,deeppink:16716947,deepskyblue:49151,dimgray:6908265,dimgrey:6908265,dodgerblue:2003199,firebrick:11674146,floralwhite:16775920,forestgreen:2263842,fuchsia:16711935,gainsboro:14474460,ghostwhite:16316671,gold:16766720,goldenrod:14329120,gray:8421504,green:32768,greenyellow:11403055,grey:8421504,honeydew:15794160,hotpink:16738740,indianred:13458524,indigo:4915330,ivory:16777200,khaki:15787660,lavender:15132410,lavenderblush:16773365,lawngreen:8190976,lemonchiffon:16775885,lightblue:11393254,lightcoral:15761536,lightcyan:14745599,lightgoldenrodyellow:16448210,lightgray:13882323,lightgreen:9498256,lightgrey:13882323,lightpink:16758465,lightsalmon:16752762,lightseagreen:2142890,lightskyblue:8900346,lightslategray:7833753,lightslategrey:7833753,lightsteelblue:11584734,lightyellow:16777184,lime:65280,limegreen:3329330,linen:16445670,magenta:16711935,maroon:8388608,mediumaquamarine:6737322,mediumblue:205,mediumorchid:12211667,mediumpurple:9662683,mediumseagreen:3978097,mediumslateblue:8087790,mediumspringgreen:64154,mediumturquoise:4772300,mediumvioletred:13047173,midnightblue:1644912,mintcream:16121850,mistyrose:16770273,moccasin:16770229,navajowhite:16768685,navy:128,oldlace:16643558,olive:8421376,olivedrab:7048739,orange:16753920,orangered:16729344,orchid:14315734,palegoldenrod:15657130,palegreen:10025880,paleturquoise:11529966,palevioletred:14381203,papayawhip:16773077,peachpuff:16767673,peru:13468991,pink:16761035,plum:14524637,powderblue:11591910,purple:8388736,rebeccapurple:6697881,red:16711680,rosybrown:12357519,royalblue:4286945,saddlebrown:9127187,salmon:16416882,sandybrown:16032864,seagreen:3050327,seashell:16774638,sienna:10506797,silver:12632256,skyblue:8900331,slateblue:6970061,slategray:7372944,slategrey:7372944,snow:16775930,springgreen:65407,steelblue:4620980,tan:13808780,teal:32896,thistle:14204888,tomato:16737095,turquoise:4251856,violet:15631086,wheat:16113331,white:16777215,whitesmoke:16119285,yellow:16776960,yellowgreen:10145074},as={h:0,s:0,l:0},os={h:0,s:0,l:0};function ss(e,t,n){return n<0&&(n+=1),n>1&&--n,n<1/6?e+(t-e)*6*n:n<1/2?t:n<2/3?e+(t-e)*6*(2/3-n):e}var cs=class{constructor(e,t,n){return this.isColor=!0,this.r=1,this.g=1,this.b=1,this.set(e,t,n)}set(e,t,n){if(t===void 0&&n===void 0){let t=e;t&&t.isColor?this.copy(t):typeof t==`number`?this.setHex(t):typeof t==`string`&&this.setStyle(t)}else this.setRGB(e,t,n);return this}setScalar(e){return this.r=e,this.g=e,this.b=e,this}setHex(e,t=la){return e=Math.floor(e),this.r=(e>>16&255)/255,this.g=(e>>8&255)/255,this.b=(e&255)/255,uo.colorSpaceToWorking(this,t),this}setRGB(e,t,n,r=uo.workingColorSpace){return this.r=e,this.g=t,this.b=n,uo.colorSpaceToWorking(this,r),this}setHSL(e,t,n,r=uo.workingColorSpace){if(e=Pa(e,1),t=Na(t,0,1),n=Na(n,0,1),t===0)this.r=this.g=this.b=n;else{let r=n<=.5?n*(1+t):n+t-n*t,i=2*n-r;this.r=ss(i,r,e+1/3),this.g=ss(i,r,e),this.b=ss(i,r,e-1/3)}return uo.colorSpaceToWorking(this,r),this}setStyle(e,t=la){function n(t){t!==void 0&&parseFloat(t)<1&&X(`Color: Alpha component of `+e+` will be ignored.`)}let r;if(r=/^(\w+)\(([^\)]*)\)/.exec(e)){let i,a=r[1],o=r[2];switch(a){case`rgb`:case`rgba`:if(i=/^\s*(\d+)\s*,\s*(\d+)\s*,\s*(\d+)\s*(?:,\s*(\d+(?:\.\d+)?|\.\d+)\s*)?$/.exec(o))return n(i[4]),this.setRGB(Math.min(255,parseInt(i[1],10))/255,Math.min(255,parseInt(i[2],10))/255,Math.min(255,parseInt(i[3],10))/255,t);if(i=/^\s*(\d+(?:\.\d+)?|\.\d+)\%\s*,\s*(\d+(?:\.\d+)?|\.\d+)\%\s*,\s*(\d+(?:\.\d+)?|\.\d+)\%\s*(?:,\s*(\d+(?:\.\d+)?|\.\d+)\s*)?$/.exec(o))return n(i[4]),this.setRGB(Math.min(100,parseFloat(i[1]))/100,Math.min(100,parseFloat(i[2]))/100,Math.min(100,parseFloat(i[3]))/100,t);break;case`hsl`:case`hsla`:if(i=/^\s*([+-]?(?:\d+(?:\.\d+)?|\.\d+))\s*,\s*(\d+(?:\.\d+)?|\.\d+)\%\s*,\s*(\d+(?:\.\d+)?|\.\d+)\%\s*(?:,\s*(\d+(?:\.\d+)?|\.\d+)\s*)?$/.exec(o))return n(i[4]),this.setHSL(parseFloat(i[1])/360,parseFloat(i[2])/100,parseFloat(i[3])/100,t);break;default:X(`Color: Unknown color model `+e)}}else if(r=/^\#([A-Fa-f\d]+)$/.exec(e)){let n=r[1],i=n.length;if(i===3)return this.setRGB(parseInt(n.charAt(0),16)/15,parseInt(n.charAt(1),16)/15,parseInt(n.charAt(2),16)/15,t);if(i===6)return this.setHex(parseInt(n,16),t);X(`Color: Invalid hex color `+e)}else if(e&&e.length>0)return this.setColorName(e,t);return this}setColorName(e,t=la){let n=is[e.toLowerCase()];return n===void 0?X(`Color: Unknown color `+e):this.setHex(n,t),this}clone(){return new this.constructor(this.r,this.g,this.b)}copy(e){return this.r=e.r,this.g=e.g,this.b=e.b,this}copySRGBToLinear(e){return this.r=fo(e.r),this.g=fo(e.g),this.b=fo(e.b),this}copyLinearToSRGB(e){return this.r=po(e.r),this.g=po(e.g),this.b=po(e.b),this}convertSRGBToLinear(){return this.copySRGBToLinear(this),this}convertLinearToSRGB(){return this.copyLinearToSRGB(this),this}getHex(e=la){return uo.workingToColorSpace(ls.copy(this),e),Math.round(Na(ls.r*255,0,255))*65536+Math.round(Na(ls.g*255,0,255))*256+Math.round(Na(ls.b*255,0,255))}getHexString(e=la){return(`000000`+this.getHex(e).toString(16)).slice(-6)}getHSL(e,t=uo.workingColorSpace){uo.workingToColorSpace(ls.copy(this),t);let n=ls.r,r=ls.g,i=ls.b,a=Math.max(n,r,i),o=Math.min(n,r,i),s,c,l=(o+a)/2;if(o===a)s=0,c=0;else{let e=a-o;switch(c=l<=.5?e/(a+o):e/(2-a-o),a){case n:s=(r-i)/e+(r<i?6:0);break;case r:s=(i-n)/e+2;break;case i:s=(n-r)/e+4}s/=6}return e.h=s,e.s=c,e.l=l,e}getRGB(e,t=uo.workingColorSpace){return uo.workingToColorSpace(ls.copy(this),t),e.r=ls.r,e.g=ls.g,e.b=ls.b,e}getStyle(e=la){uo.workingToColorSpace(ls.copy(this),e);let t=ls.r,n=ls.g,r=ls.b;return e===`srgb`?`rgb(${Math.round(t*255)},${Math.round(n*255)},${Math.round(r*255)})`:`color(${e} ${t.toFixed(3)} ${n.toFixed(3)} ${r.toFixed(3)})`}offsetHSL(e,t,n){return this.getHSL(as),this.setHSL(as.h+e,as.s+t,as.l+n)}add(e){return this.r+=e.r,this.g+=e.g,this.b+=e.b,this}addColors(e,t){return this.r=e.r+t.r,this.g=e.g+t.g,this.b=e.b+t.b,this}addScalar(e){return this.r+=e,this.g+=e,this.b+=e,this}sub(e){return this.r=Math.max(0,this.r-e.r),this.g=Math.max(0,this.g-e.g),this.b=Math.max(0,this.b-e.b),this}multiply(e){return this.r*=e.r,this.g*=e.g,this.b*=e.b,this}multiplyScalar(e){return this.r*=e,this.g*=e,this.b*=e,this}lerp(e,t){return this.r+=(e.r-this.r)*t,this.g+=(e.g-this.g)*t,this.b+=(e.b-this.b)*t,this}lerpColors(e,t,n){return this.r=e.r+(t.r-e.r)*n,this.g=e.g+(t.g-e.g)*n,this.b=e.b+(t.b-e.b)*n,this}lerpHSL(e,t){this.getHSL(as),e.getHSL(os);let n=La(as.h,os.h,t),r=La(as.s,os.s,t),i=La(as.l,os.l,t);return this.setHSL(n,r,i),this}setFromVector3(e){return this.r=e.x,this.g=e.y,this.b=e.z,this}applyMatrix3(e){let t=this.r,n=this.g,r=this.b,i=e.elements;return this.r=i[0]*t+i[3]*n+i[6]*r,this.g=i[1]*t+i[4]*n+i[7]*r,this.b=i[2]*t+i[5]*n+i[8]*r,this}equals(e){return e.r===this.r&&e.g===this.g&&e.b===this.b}fromArray(e,t=0){return this.r=e[t],this.g=e[t+1],this.b=e[t+2],this}toArray(e=[],t=0){return e[t]=this.r,e[t+1]=this.g,e[t+2]=this.b,e}fromBufferAttribute(e,t){return this.r=e.getX(t),this.g=e.getY(t),this.b=e.getZ(t),this}toJSON(){return this.getHex()}*[Symbol.iterator](){yield this.r,yield this.g,yield this.b}},ls=new cs;cs.NAMES=is;var us=class extends es{constructor(){super(),this.isScene=!0,this.type=`Scene`,this.background=null,this.environment=null,this.fog=null,this.backgroundBlurriness=0,this.backgroundIntensity=1,this.backgroundRotation=new Lo,this.environmentIntensity=1,this.environmentRotation=new Lo,this.overrideMaterial=null,typeof __THREE_DEVTOOLS__<`u`&&__THREE_DEVTOOLS__.dispatchEvent(new CustomEvent(`observe`,{detail:this}))}copy(e,t){return super.copy(e,t),this.background=e.background===null?null:e.background.clone(),this.environment=e.environment===null?null:e.environment.clone(),this.fog=e.fog===null?null:e.fog.clone(),this.backgroundBlurriness=e.backgroundBlurriness,this.backgroundIntensity=e.backgroundIntensity,this.backgroundRotation.copy(e.backgroundRotation),this.environmentIntensity=e.environmentIntensity,this.environmentRotation.copy(e.environmentRotation),this.overrideMaterial=e.overrideMaterial===null?null:e.overrideMaterial.clone(),this.matrixAutoUpdate=e.matrixAutoUpdate,this}toJSON(e){let t=super.toJSON(e);return this.fog!==null&&(t.object.fog=this.fog.toJSON()),t.object.backgroundBlurriness=this.backgroundBlurriness,t.object.backgroundIntensity=this.backgroundIntensity,t.object.backgroundRotation=this.backgroundRotation.toArray(),t.object.environmentIntensity=this.environmentIntensity,t.object.environmentRotation=this.environmentRotation.toArray(),t}},ds=new Q,fs=new Q,ps=new Q,ms=new Q,hs=new Q,gs=new Q,_s=new Q,vs=new Q,ys=new Q,bs=new Q,xs=new So,Ss=new So,Cs=new So,ws=class e{constructor(e=new Q,t=new Q,n=new Q){this.a=e,this.b=t,this.c=n}static getNormal(e,t,n,r){r.subVectors(n,t),ds.subVectors(e,t),r.cross(ds);let i=r.lengthSq();return i>0?r.multiplyScalar(1/Math.sqrt(i)):r.set(0,0,0)}static getBarycoord(e,t,n,r,i){ds.subVectors(r,t),fs.subVectors(n,t),ps.subVectors(e,t);let a=ds.dot(ds),o=ds.dot(fs),s=ds.dot(ps),c=fs.dot(fs),l=fs.dot(ps),u=a*c-o*o;if(u===0)return i.set(0,0,0),null;let d=1/u,f=(c*s-o*l)*d,p=(a*l-o*s)*d;return i.set(1-f-p,p,f)}static containsPoint(e,t,n,r){return this.getBarycoord(e,t,n,r,ms)!==null&&ms.x>=0&&ms.y>=0&&ms.x+ms.y<=1}static getInterpolation(e,t,n,r,i,a,o,s){return this.getBarycoord(e,t,n,r,ms)===null?(s.x=0,s.y=0,`z`in s&&(s.z=0),`w`in s&&(s.w=0),null):(s.setScalar(0),s.addScaledVector(i,ms.x),s.addScaledVector(a,ms.y),s.addScaledVector(o,ms.z),s)}static getInterpolatedAttribute(e,t,n,r,i,a){return xs.setScalar(0),Ss.setScalar(0),Cs.setScalar(0),xs.fromBufferAttribute(e,t),Ss.fromBufferAttribute(e,n),Cs.fromBufferAttribute(e,r),a.setScalar(0),a.addScaledVector(xs,i.x),a.addScaledVector(Ss,i.y),a.addScaledVector(Cs,i.z),a}static isFrontFacing(e,t,n,r){return ds.subVectors(n,t),fs.subVectors(e,t),ds.cross(fs).dot(r)<0}set(e,t,n){return this.a.copy(e),this.b.copy(t),this.c.copy(n),this}setFromPointsAndIndices(e,t,n,r){return this.a.copy(e[t]),this.b.copy(e[n]),this.c.copy(e[r]),this}setFromAttributeAndIndices(e,t,n,r){return this.a.fromBufferAttribute(e,t),this.b.fromBufferAttribute(e,n),this.c.fromBufferAttribute(e,r),this}clone(){return new this.constructor().copy(this)}copy(e){return this.a.copy(e.a),this.b.copy(e.b),this.c.copy(e.c),this}getArea(){return ds.subVectors(this.c,this.b),fs.subVectors(this.a,this.b),ds.cross(fs).length()*.5}getMidpoint(e){return e.addVectors(this.a,this.b).add(this.c).multiplyScalar(1/3)}getNormal(t){return e.getNormal(this.a,this.b,this.c,t)}getPlane(e){return e.setFromCoplanarPoints(this.a,this.b,this.c)}getBarycoord(t,n){return e.getBarycoord(t,this.a,this.b,this.c,n)}getInterpolation(t,n,r,i,a){return e.getInterpolation(t,this.a,this.b,this.c,n,r,i,a)}containsPoint(t){return e.containsPoint(t,this.a,this.b,this.c)}isFrontFacing(t){return e.isFrontFacing(this.a,this.b,this.c,t)}intersectsBox(e){return e.intersectsTriangle(this)}closestPointToPoint(e,t){let n=this.a,r=this.b,i=this.c,a,o;hs.subVectors(r,n),gs.subVectors(i,n),vs.subVectors(e,n);let s=hs.dot(vs),c=gs.dot(vs);if(s<=0&&c<=0)return t.copy(n);ys.subVectors(e,r);let l=hs.dot(ys),u=gs.dot(ys);if(l>=0&&u<=l)return t.copy(r);let d=s*u-l*c;if(d<=0&&s>=0&&l<=0&&s-l>0)return a=s/(s-l),t.copy(n).addScaledVector(hs,a);bs.subVectors(e,i);let f=hs.dot(bs),p=gs.dot(bs);if(p>=0&&f<=p)return t.copy(i);let m=f*c-s*p;if(m<=0&&c>=0&&p<=0)return o=c/(c-p),t.copy(n).addScaledVector(gs,o);let h=l*p-f*u;if(h<=0&&u-l>=0&&f-p>=0)return _s.subVectors(i,r),o=(u-l)/(u-l+(f-p)),t.copy(r).addScaledVector(_s,o);let g=1/(h+m+d);return a=m*g,o=d*g,t.copy(n).addScaledVector(hs,a).addScaledVector(gs,o)}equals(e){return e.a.equals(this.a)&&e.b.equals(this.b)&&e.c.equals(this.c)}},Ts=class{constructor(e=new Q(1/0,1/0,1/0),t=new Q(-1/0,-1/0,-1/0)){this.isBox3=!0,this.min=e,this.max=t}set(e,t){return this.min.copy(e),this.max.copy(t),this}setFromArray(e){this.makeEmpty();for(let t=0,n=e.length;t<n;t+=3)this.expandByPoint(Ds.fromArray(e,t));return this}setFromBufferAttribute(e){this.makeEmpty();for(let t=0,n=e.count;t<n;t++)this.expandByPoint(Ds.fromBufferAttribute(e,t));return this}setFromPoints(e){this.makeEmpty();for(let t=0,n=e.length;t<n;t++)this.expandByPoint(e[t]);return this}setFromCenterAndSize(e,t){let n=Ds.copy(t).multiplyScalar(.5);return this.min.copy(e).sub(n),this.max.copy(e).add(n),this}setFromObject(e,t=!1){return this.makeEmpty(),this.expandByObject(e,t)}clone(){return new this.constructor().copy(this)}copy(e){return this.min.copy(e.min),this.max.copy(e.max),this}makeEmpty(){return this.min.x=this.min.y=this.min.z=1/0,this.max.x=this.max.y=this.max.z=-1/0,this}isEmpty(){return this.max.x<this.min.x||this.max.y<this.min.y||this.max.z<this.min.z}getCenter(e){return this.isEmpty()?e.set(0,0,0):e.addVectors(this.min,this.max).multiplyScalar(.5)}getSize(e){return this.isEmpty()?e.set(0,0,0):e.subVectors(this.max,this.min)}expandByPoint(e){return this.min.min(e),this.max.max(e),this}expandByVector(e){return this.min.sub(e),this.max.add(e),this}expandByScalar(e){return this.min.addScalar(-e),this.max.addScalar(e),this}expandByObject(e,t=!1){e.updateWorldMatrix(!1,!1);let n=e.geometry;if(n!==void 0){let r=n.getAttribute(`position`);if(t===!0&&r!==void 0&&e.isInstancedMesh!==!0&&e.isBatchedMesh!==!0)for(let t=0,n=r.count;t<n;t++)e.isMesh===!0?e.getVertexPosition(t,Ds):Ds.fromBufferAttribute(r,t),Ds.applyMatrix4(e.matrixWorld),this.expandByPoint(Ds);else e.boundingBox===void 0?(n.boundingBox===null&&n.computeBoundingBox(),Os.copy(n.boundingBox)):(e.boundingBox===null&&e.computeBoundingBox(),Os.copy(e.boundingBox)),Os.applyMatrix4(e.matrixWorld),this.union(Os)}let r=e.children;for(let e=0,n=r.length;e<n;e++)this.expandByObject(r[e],t);return this}containsPoint(e){return e.x>=this.min.x&&e.x<=this.max.x&&e.y>=this.min.y&&e.y<=this.max.y&&e.z>=this.min.z&&e.z<=this.max.z}containsBox(e){return this.min.x<=e.min.x&&e.max.x<=this.max.x&&this.min.y<=e.min.y&&e.max.y<=this.max.y&&this.min.z<=e.min.z&&e.max.z<=this.max.z}getParameter(e,t){return t.set((e.x-this.min.x)/(this.max.x-this.min.x),(e.y-this.min.y)/(this.max.y-this.min.y),(e.z-this.min.z)/(this.max.z-this.min.z))}intersectsBox(e){return e.max.x>=this.min.x&&e.min.x<=this.max.x&&e.max.y>=this.min.y&&e.min.y<=this.max.y&&e.max.z>=this.min.z&&e.min.z<=this.max.z}intersectsSphere(e){return this.clampPoint(e.center,Ds),Ds.distanceToSquared(e.center)<=e.radius*e.radius}intersectsPlane(e){let t,n;return e.normal.x>0?(t=e.normal.x*this.min.x,n=e.normal.x*this.max.x):(t=e.normal.x*this.max.x,n=e.normal.x*this.min.x),e.normal.y>0?(t+=e.normal.y*this.min.y,n+=e.normal.y*this.max.y):(t+=e.normal.y*this.max.y,n+=e.normal.y*this.min.y),e.normal.z>0?(t+=e.normal.z*this.min.z,n+=e.normal.z*this.max.z):(t+=e.normal.z*this.max.z,n+=e.normal.z*this.min.z),t<=-e.constant&&n>=-e.constant}intersectsTriangle(e){if(this.isEmpty())return!1;this.getCenter(Fs),Is.subVectors(this.max,Fs),ks.subVectors(e.a,Fs),As.subVectors(e.b,Fs),js.subVectors(e.c,Fs),Ms.subVectors(As,ks),Ns.subVectors(js,As),Ps.subVectors(ks,js);let t=[0,-Ms.z,Ms.y,0,-Ns.z,Ns.y,0,-Ps.z,Ps.y,Ms.z,0,-Ms.x,Ns.z,0,-Ns.x,Ps.z,0,-Ps.x,-Ms.y,Ms.x,0,-Ns.y,Ns.x,0,-Ps.y,Ps.x,0];return!zs(t,ks,As,js,Is)||(t=[1,0,0,0,1,0,0,0,1],!zs(t,ks,As,js,Is))?!1:(Ls.crossVectors(Ms,Ns),t=[Ls.x,Ls.y,Ls.z],zs(t,ks,As,js,Is))}clampPoint(e,t){return t.copy(e).clamp(this.min,this.max)}distanceToPoint(e){return this.clampPoint(e,Ds).distanceTo(e)}getBoundingSphere(e){return this.isEmpty()?e.makeEmpty():(this.getCenter(e.center),e.radius=this.getSize(Ds).length()*.5),e}intersect(e){return this.min.max(e.min),this.max.min(e.max),this.isEmpty()&&this.makeEmpty(),this}union(e){return this.min.min(e.min),this.max.max(e.max),this}applyMatrix4(e){return this.isEmpty()||(Es[0].set(this.min.x,this.min.y,this.min.z).applyMatrix4(e),Es[1].set(this.min.x,this.min.y,this.max.z).applyMatrix4(e),Es[2].set(this.min.x,this.max.y,this.min.z).applyMatrix4(e),Es[3].set(this.min.x,this.max.y,this.max.z).applyMatrix4(e),Es[4].set(this.max.x,this.min.y,this.min.z).applyMatrix4(e),Es[5].set(this.max.x,this.min.y,this.max.z).applyMatrix4(e),Es[6].set(this.max.x,this.max.y,this.min.z).applyMatrix4(e),Es[7].set(this.max.x,this.max.y,this.max.z).applyMatrix4(e),this.setFromPoints(Es)),this}translate(e){return this.min.add(e),this.max.add(e),this}equals(e){return e.min.equals(this.min)&&e.max.equals(this.max)}toJSON(){return{min:this.min.toArray(),max:this.max.toArray()}}fromJSON(e){return this.min.fromArray(e.min),this.max.fromArray(e.max),this}},Es=[new Q,new Q,new Q,new Q,new Q,new Q,new Q,new Q],Ds=new Q,Os=new Ts,ks=new Q,As=new Q,js=new Q,Ms=new Q,Ns=new Q,Ps=new Q,Fs=new Q,Is=new Q,Ls=new Q,Rs=new Q;function zs(e,t,n,r,i){for(let a=0,o=e.length-3;a<=o;a+=3){Rs.fromArray(e,a);let o=i.x*Math.abs(Rs.x)+i.y*Math.abs(Rs.y)+i.z*Math.abs(Rs.z),s=t.dot(Rs),c=n.dot(Rs),l=r.dot(Rs);if(Math.max(-Math.max(s,c,l),Math.min(s,c,l))>o)return!1}return!0}var Bs=Vs();function Vs(){let e=new ArrayBuffer(4),t=new Float32Array(e),n=new Uint32Array(e),r=new Uint32Array(512),i=new Uint32Array(512);for(let e=0;e<256;++e){let t=e-127;t<-27?(r[e]=0,r[e|256]=32768,i[e]=24,i[e|256]=24):t<-14?(r[e]=1024>>-t-14,r[e|256]=1024>>-t-14|32768,i[e]=-t-1,i[e|256]=-t-1):t<=15?(r[e]=t+15<<10,r[e|256]=t+15<<10|32768,i[e]=13,i[e|256]=13):t<128?(r[e]=31744,r[e|256]=64512,i[e]=24,i[e|256]=24):(r[e]=31744,r[e|256]=64512,i[e]=13,i[e|256]=13)}let a=new Uint32Array(2048),o=new Uint32Array(64),s=new Uint32Array(64);for(let e=1;e<1024;++e){let t=e<<13,n=0;for(;!(t&8388608);)t<<=1,n-=8388608;t&=-8388609,n+=947912704,a[e]=t|n}for(let e=1024;e<2048;++e)a[e]=939524096+(e-1024<<13);for(let e=1;e<31;++e)o[e]=e<<23;o[31]=1199570944,o[32]=2147483648;for(let e=33;e<63;++e)o[e]=2147483648+(e-32<<23);o[63]=3347054592;for(let e=1;e<64;++e)e!==32&&(s[e]=1024);return{floatView:t,uint32View:n,baseTable:r,shiftTable:i,mantissaTable:a,exponentTable:o,offsetTable:s}}function Hs(e){Math.abs(e)>65504&&X(`DataUtils.toHalfFloat(): Value out of range.`),e=Na(e,-65504,65504),Bs.floatView[0]=e;let t=Bs.uint32View[0],n=t>>23&511;return Bs.baseTable[n]+((t&8388607)>>Bs.shiftTable[n])}function Us(e){let t=e>>10;return Bs.uint32View[0]=Bs.mantissaTable[Bs.offsetTable[t]+(e&1023)]+Bs.exponentTable[t],Bs.floatView[0]}var Ws=class{static toHalfFloat(e){return Hs(e)}static fromHalfFloat(e){return Us(e)}},Gs=new Q,Ks=new Z,qs=0,Js=class extends Da{constructor(e,t,n=!1){if(super(),Array.isArray(e))throw TypeError(`THREE.BufferAttribute: array should be a Typed Array.`);this.isBufferAttribute=!0,Object.defineProperty(this,"id",{value:qs++}),this.name=``,this.array=e,this.itemSize=t,this.count=e===void 0?0:e.length/t,this.normalized=n,this.usage=ma,this.updateRanges=[],this.gpuType=ni,this.version=0,this._normalizationScale=e===void 0?void 0:Qa(e)}onUploadCallback(){}set needsUpdate(e){e===!0&&this.version++}setUsage(e){return this.usage=e,this}addUpdateRange(e,t){this.updateRanges.push({start:e,count:t})}clearUpdateRanges(){this.updateRanges.length=0}copy(e){return this.name=e.name,this.array=new e.array.constructor(e.array),this.itemSize=e.itemSize,this.count=e.count,this.normalized=e.normalized,this.usage=e.usage,this.gpuType=e.gpuType,this._normalizationScale=e._normalizationScale,this}copyAt(e,t,n){e*=this.itemSize,n*=t.itemSize;for(let r=0,i=this.itemSize;r<i;r++)this.array[e+r]=t.array[n+r];return this}copyArray(e){return this.array.set(e),this}applyMatrix3(e){if(this.itemSize===2)for(let t=0,n=this.count;t<n;t++)Ks.fromBufferAttribute(this,t),Ks.applyMatrix3(e),this.setXY(t,Ks.x,Ks.y);else if(this.itemSize===3)for(let t=0,n=this.count;t<n;t++)Gs.fromBufferAttribute(this,t),Gs.applyMatrix3(e),this.setXYZ(t,Gs.x,Gs.y,Gs.z);return this}applyMatrix4(e){for(let t=0,n=this.count;t<n;t++)Gs.fromBufferAttribute(this,t),Gs.applyMatrix4(e),this.setXYZ(t,Gs.x,Gs.y,Gs.z);return this}applyNormalMatrix(e){for(let t=0,n=this.count;t<n;t++)Gs.fromBufferAttribute(this,t),Gs.applyNormalMatrix(e),this.setXYZ(t,Gs.x,Gs.y,Gs.z);return this}transformDirection(e){for(let t=0,n=this.count;t<n;t++)Gs.fromBufferAttribute(this,t),Gs.transformDirection(e),this.setXYZ(t,Gs.x,Gs.y,Gs.z);return this}set(e,t=0){return this.array.set(e,t),this}getComponent(e,t){let n=this.array[e*this.itemSize+t];return this.normalized&&(n=this._denormalize(n)),n}setComponent(e,t,n){return this.normalized&&(n=this._normalize(n)),this.array[e*this.itemSize+t]=n,this}getX(e){let t=this.array[e*this.itemSize];return this.normalized&&(t=this._denormalize(t)),t}setX(e,t){return this.normalized&&(t=this._normalize(t)),this.array[e*this.itemSize]=t,this}getY(e){let t=this.array[e*this.itemSize+1];return this.normalized&&(t=this._denormalize(t)),t}setY(e,t){return this.normalized&&(t=this._normalize(t)),this.array[e*this.itemSize+1]=t,this}getZ(e){let t=this.array[e*this.itemSize+2];return this.normalized&&(t=this._denormalize(t)),t}setZ(e,t){return this.normalized&&(t=this._normalize(t)),this.array[e*this.itemSize+2]=t,this}getW(e){let t=this.array[e*this.itemSize+3];return this.normalized&&(t=this._denormalize(t)),t}setW(e,t){return this.normalized&&(t=this._normalize(t)),this.array[e*this.itemSize+3]=t,this}setXY(e,t,n){return e*=this.itemSize,this.normalized&&(t=this._normalize(t),n=this._normalize(n)),this.array[e+0]=t,this.array[e+1]=n,this}setXYZ(e,t,n,r){return e*=this.itemSize,this.normalized&&(t=this._normalize(t),n=this._normalize(n),r=this._normalize(r)),this.array[e+0]=t,this.array[e+1]=n,this.array[e+2]=r,this}setXYZW(e,t,n,r,i){return e*=this.itemSize,this.normalized&&(t=this._normalize(t),n=this._normalize(n),r=this._normalize(r),i=this._normalize(i)),this.array[e+0]=t,this.array[e+1]=n,this.array[e+2]=r,this.array[e+3]=i,this}onUpload(e){return this.onUploadCallback=e,this}clone(){return new this.constructor(this.array,this.itemSize).copy(this)}toJSON(){let e={itemSize:this.itemSize,type:this.array.constructor.name,array:Array.from(this.array),normalized:this.normalized};return e.name=this.name,e.usage=this.usage,e.gpuType=this.gpuType,e}dispose(){this.dispatchEvent({type:`dispose`})}_denormalize(e){let t=this._normalizationScale;return t===void 0?$a(e,this.array):Math.max(e/t,-1)}_normalize(e){let t=this._normalizationScale;return t===void 0?eo(e,this.array):Math.round(e*t)}},Ys=class extends Js{constructor(e,t,n){super(new Uint16Array(e),t,n)}},Xs=class extends Js{constructor(e,t,n){super(new Uint32Array(e),t,n)}},Zs=class extends Js{constructor(e,t,n){super(new Float32Array(e),t,n)}},Qs=new Ts,$s=new Q,ec=new Q,tc=class{constructor(e=new Q,t=-1){this.isSphere=!0,this.center=e,this.radius=t}set(e,t){return this.center.copy(e),this.radius=t,this}setFromPoints(e,t){let n=this.center;t===void 0?Qs.setFromPoints(e).getCenter(n):n.copy(t);let r=0;for(let t=0,i=e.length;t<i;t++)r=Math.max(r,n.distanceToSquared(e[t]));return this.radius=Math.sqrt(r),this}copy(e){return this.center.copy(e.center),this.radius=e.radius,this}isEmpty(){return this.radius<0}makeEmpty(){return this.center.set(0,0,0),this.radius=-1,this}containsPoint(e){return e.distanceToSquared(this.center)<=this.radius*this.radius}distanceToPoint(e){return e.distanceTo(this.center)-this.radius}intersectsSphere(e){let t=this.radius+e.radius;return e.center.distanceToSquared(this.center)<=t*t}intersectsBox(e){return e.intersectsSphere(this)}intersectsPlane(e){return Math.abs(e.distanceToPoint(this.center))<=this.radius}clampPoint(e,t){let n=this.center.distanceToSquared(e);return t.copy(e),n>this.radius*this.radius&&(t.sub(this.center).normalize(),t.multiplyScalar(this.radius).add(this.center)),t}getBoundingBox(e){return this.isEmpty()?(e.makeEmpty(),e):(e.set(this.center,this.center),e.expandByScalar(this.radius),e)}applyMatrix4(e){return this.center.applyMatrix4(e),this.radius*=e.getMaxScaleOnAxis(),this}translate(e){return this.center.add(e),this}expandByPoint(e){if(this.isEmpty())return this.center.copy(e),this.radius=0,this;$s.subVectors(e,this.center);let t=$s.lengthSq();if(t>this.radius*this.radius){let e=Math.sqrt(t),n=(e-this.radius)*.5;this.center.addScaledVector($s,n/e),this.radius+=n}return this}union(e){return e.isEmpty()?this:this.isEmpty()?(this.copy(e),this):(this.center.equals(e.center)===!0?this.radius=Math.max(this.radius,e.radius):(ec.subVectors(e.center,this.center).setLength(e.radius),this.expandByPoint($s.copy(e.center).add(ec)),this.expandByPoint($s.copy(e.center).sub(ec))),this)}equals(e){return e.center.equals(this.center)&&e.radius===this.radius}clone(){return new this.constructor().copy(this)}toJSON(){return{radius:this.radius,center:this.center.toArray()}}fromJSON(e){return this.radius=e.radius,this.center.fromArray(e.center),this}},nc=0,rc=new Do,ic=new es,ac=new Q,oc=new Ts,sc=new Ts,cc=new Q,lc=class e extends Da{constructor(){super(),this.isBufferGeometry=!0,Object.defineProperty(this,"id",{value:nc++}),this.uuid=Ma(),this.name=``,this.type=`BufferGeometry`,this.index=null,this.indirect=null,this.indirectOffset=0,this.attributes={},this.morphAttributes={},this.morphTargetsRelative=!1,this.groups=[],this.boundingBox=null,this.boundingSphere=null,this.drawRange={start:0,count:1/0},this.userData={},this._transformed=!1}getIndex(){return this.index}setIndex(e){return this.index=Array.isArray(e)?new(ga(e)?Xs:Ys)(e,1):e,this}setIndirect(e,t=0){return this.indirect=e,this.indirectOffset=t,this}getIndirect(){return this.indirect}getAttribute(e){return this.attributes[e]}setAttribute(e,t){return this.attributes[e]=t,this}deleteAttribute(e){return delete this.attributes[e],this}hasAttribute(e){return this.attributes[e]!==void 0}addGroup(e,t,n=0){this.groups.push({start:e,count:t,materialIndex:n})}clearGroups(){this.groups=[]}setDrawRange(e,t){this.drawRange.start=e,this.drawRange.count=t}applyMatrix4(e){let t=this.attributes.position;t!==void 0&&(t.applyMatrix4(e),t.needsUpdate=!0);let n=this.attributes.normal;if(n!==void 0){let t=new ao().getNormalMatrix(e);n.applyNormalMatrix(t),n.needsUpdate=!0}let r=this.attributes.tangent;return r!==void 0&&(r.transformDirection(e),r.needsUpdate=!0),this.boundingBox!==null&&this.computeBoundingBox(),this.boundingSphere!==null&&this.computeBoundingSphere(),this._transformed=!0,this}applyQuaternion(e){return rc.makeRotationFromQuaternion(e),this.applyMatrix4(rc),this}rotateX(e){return rc.makeRotationX(e),this.applyMatrix4(rc),this}rotateY(e){return rc.makeRotationY(e),this.applyMatrix4(rc),this}rotateZ(e){return rc.makeRotationZ(e),this.applyMatrix4(rc),this}translate(e,t,n){return rc.makeTranslation(e,t,n),this.applyMatrix4(rc),this}scale(e,t,n){return rc.makeScale(e,t,n),this.applyMatrix4(rc),this}lookAt(e){return ic.lookAt(e),ic.updateMatrix(),this.applyMatrix4(ic.matrix),this}center(){return this.computeBoundingBox(),this.boundingBox.getCenter(ac).negate(),this.translate(ac.x,ac.y,ac.z),this}setFromPoints(e){let t=this.getAttribute(`position`);if(t===void 0){let t=[];for(let n=0,r=e.length;n<r;n++){let r=e[n];t.push(r.x,r.y,r.z||0)}this.setAttribute(`position`,new Zs(t,3))}else{let n=Math.min(e.length,t.count);for(let r=0;r<n;r++){let n=e[r];t.setXYZ(r,n.x,n.y,n.z||0)}e.length>t.count&&X(`BufferGeometry: Buffer size too small for points data. Use .dispose() and create a new geometry.`),t.needsUpdate=!0}return this}computeBoundingBox(){this.boundingBox===null&&(this.boundingBox=new Ts);let e=this.attributes.position,t=this.morphAttributes.position;if(e&&e.isGLBufferAttribute)Ca(`BufferGeometry.computeBoundingBox(): GLBufferAttribute requires a manual bounding box.`,this),this.boundingBox.set(new Q(-1/0,-1/0,-1/0),new Q(1/0,1/0,1/0));else{if(e!==void 0){if(this.boundingBox.setFromBufferAttribute(e),t)for(let e=0,n=t.length;e<n;e++){let n=t[e];oc.setFromBufferAttribute(n),this.morphTargetsRelative?(cc.addVectors(this.boundingBox.min,oc.min),this.boundingBox.expandByPoint(cc),cc.addVectors(this.boundingBox.max,oc.max),this.boundingBox.expandByPoint(cc)):(this.boundingBox.expandByPoint(oc.min),this.boundingBox.expandByPoint(oc.max))}}else this.boundingBox.makeEmpty();(isNaN(this.boundingBox.min.x)||isNaN(this.boundingBox.min.y)||isNaN(this.boundingBox.min.z))&&Ca(`BufferGeometry.computeBoundingBox(): Computed min/max have NaN values. The "position" attribute is likely to have NaN values.`,this)}}computeBoundingSphere(){this.boundingSphere===null&&(this.boundingSphere=new tc);let e=this.attributes.position,t=this.morphAttributes.position;if(e&&e.isGLBufferAttribute)Ca(`BufferGeometry.computeBoundingSphere(): GLBufferAttribute requires a manual bounding sphere.`,this),this.boundingSphere.set(new Q,1/0);else if(e){let n=this.boundingSphere.center;if(oc.setFromBufferAttribute(e),t)for(let e=0,n=t.length;e<n;e++){let n=t[e];sc.setFromBufferAttribute(n),this.morphTargetsRelative?(cc.addVectors(oc.min,sc.min),oc.expandByPoint(cc),cc.addVectors(oc.max,sc.max),oc.expandByPoint(cc)):(oc.expandByPoint(sc.min),oc.expandByPoint(sc.max))}oc.getCenter(n);let r=0;for(let t=0,i=e.count;t<i;t++)cc.fromBufferAttribute(e,t),r=Math.max(r,n.distanceToSquared(cc));if(t)for(let i=0,a=t.length;i<a;i++){let a=t[i],o=this.morphTargetsRelative;for(let t=0,i=a.count;t<i;t++)cc.fromBufferAttribute(a,t),o&&(ac.fromBufferAttribute(e,t),cc.add(ac)),r=Math.max(r,n.distanceToSquared(cc))}this.boundingSphere.radius=Math.sqrt(r),isNaN(this.boundingSphere.radius)&&Ca(`BufferGeometry.computeBoundingSphere(): Computed radius is NaN. The "position" attribute is likely to have NaN values.`,this)}}computeTangents(){let e=this.index,t=this.attributes;if(e===null||t.position===void 0||t.normal===void 0||t.uv===void 0){Ca(`BufferGeometry: .computeTangents() failed. Missing required attributes (index, position, normal or uv)`);return}let n=t.position,r=t.normal,i=t.uv,a=this.getAttribute(`tangent`);(a===void 0||a.count!==n.count)&&(a=new Js(new Float32Array(4*n.count),4),this.setAttribute(`tangent`,a));let o=[],s=[],c=new Uint8Array(n.count);for(let e=0;e<n.count;e++)o[e]=new Q,s[e]=new Q;let l=new Q,u=new Q,d=new Q,f=new Z,p=new Z,m=new Z,h=new Q,g=new Q;function _(e,t,r){c[e]=c[t]=c[r]=1,l.fromBufferAttribute(n,e),u.fromBufferAttribute(n,t),d.fromBufferAttribute(n,r),f.fromBufferAttribute(i,e),p.fromBufferAttribute(i,t),m.fromBufferAttribute(i,r),u.sub(l),d.sub(l),p.sub(f),m.sub(f);let a=1/(p.x*m.y-m.x*p.y);isFinite(a)&&(h.copy(u).multiplyScalar(m.y).addScaledVector(d,-p.y).multiplyScalar(a),g.copy(d).multiplyScalar(p.x).addScaledVector(u,-m.x).multiplyScalar(a),o[e].add(h),o[t].add(h),o[r].add(h),s[e].add(g),s[t].add(g),s[r].add(g))}let v=this.groups;v.length===0&&(v=[{start:0,count:e.count}]);for(let t=0,n=v.length;t<n;++t){let n=v[t],r=n.start,i=n.count;for(let t=r,n=r+i;t<n;t+=3)_(e.getX(t+0),e.getX(t+1),e.getX(t+2))}let y=new Q,b=new Q,x=new Q,S=new Q;function C(e){x.fromBufferAttribute(r,e),S.copy(x);let t=o[e];y.copy(t),y.sub(x.multiplyScalar(x.dot(t))).normalize(),b.crossVectors(S,t);let n=b.dot(s[e])<0?-1:1;a.setXYZW(e,y.x,y.y,y.z,n)}for(let e=0,t=n.count;e<t;++e)c[e]&&C(e);this._transformed=!0}computeVertexNormals(){let e=this.index,t=this.getAttribute(`position`);if(t!==void 0){let n=this.getAttribute(`normal`);if(n===void 0||n.count!==t.count)n=new Js(new Float32Array(t.count*3),3),this.setAttribute(`normal`,n);else for(let e=0,t=n.count;e<t;e++)n.setXYZ(e,0,0,0);let r=new Q,i=new Q,a=new Q,o=new Q,s=new Q,c=new Q,l=new Q,u=new Q;if(e)for(let d=0,f=e.count;d<f;d+=3){let f=e.getX(d+0),p=e.getX(d+1),m=e.getX(d+2);r.fromBufferAttribute(t,f),i.fromBufferAttribute(t,p),a.fromBufferAttribute(t,m),l.subVectors(a,i),u.subVectors(r,i),l.cross(u),o.fromBufferAttribute(n,f),s.fromBufferAttribute(n,p),c.fromBufferAttribute(n,m),o.add(l),s.add(l),c.add(l),n.setXYZ(f,o.x,o.y,o.z),n.setXYZ(p,s.x,s.y,s.z),n.setXYZ(m,c.x,c.y,c.z)}else for(let e=0,o=t.count;e<o;e+=3)r.fromBufferAttribute(t,e+0),i.fromBufferAttribute(t,e+1),a.fromBufferAttribute(t,e+2),l.subVectors(a,i),u.subVectors(r,i),l.cross(u),n.setXYZ(e+0,l.x,l.y,l.z),n.setXYZ(e+1,l.x,l.y,l.z),n.setXYZ(e+2,l.x,l.y,l.z);this.normalizeNormals(),n.needsUpdate=!0}}normalizeNormals(){let e=this.attributes.normal;for(let t=0,n=e.count;t<n;t++)cc.fromBufferAttribute(e,t),cc.normalize(),e.setXYZ(t,cc.x,cc.y,cc.z)}toNonIndexed(){function t(e,t){let n=e.array,r=e.itemSize,i=e.normalized,a=new n.constructor(t.length*r),o=0,s=0;for(let i=0,c=t.length;i<c;i++){o=e.isInterleavedBufferAttribute?t[i]*e.data.stride+e.offset:t[i]*r;for(let e=0;e<r;e++)a[s++]=n[o++]}return new Js(a,r,i)}if(this.index===null)return X(`BufferGeometry.toNonIndexed(): BufferGeometry is already non-indexed.`),this;let n=new e,r=this.index.array,i=this.attributes;for(let e in i){let a=i[e],o=t(a,r);n.setAttribute(e,o)}let a=this.morphAttributes;for(let e in a){let i=[],o=a[e];for(let e=0,n=o.length;e<n;e++){let n=o[e],a=t(n,r);i.push(a)}n.morphAttributes[e]=i}n.morphTargetsRelative=this.morphTargetsRelative;let o=this.groups;for(let e=0,t=o.length;e<t;e++){let t=o[e];n.addGroup(t.start,t.count,t.materialIndex)}return n}toJSON(){let e={metadata:{version:4.7,type:`BufferGeometry`,generator:`BufferGeometry.toJSON`}};if(e.uuid=this.uuid,e.type=this.parameters!==void 0&&this._transformed===!0?`BufferGeometry`:this.type,e.name=this.name,Object.keys(this.userData).length>0&&(e.userData=this.userData),this.parameters!==void 0&&this._transformed!==!0){let t=this.parameters;for(let n in t)t[n]!==void 0&&(e[n]=t[n]);return e}e.data={attributes:{}};let t=this.index;t!==null&&(e.data.index={type:t.array.constructor.name,array:Array.prototype.slice.call(t.array)});let n=this.attributes;for(let t in n){let r=n[t];e.data.attributes[t]=r.toJSON(e.data)}let r={},i=!1;for(let t in this.morphAttributes){let n=this.morphAttributes[t],a=[];for(let t=0,r=n.length;t<r;t++){let r=n[t];a.push(r.toJSON(e.data))}a.length>0&&(r[t]=a,i=!0)}i&&(e.data.morphAttributes=r,e.data.morphTargetsRelative=this.morphTargetsRelative);let a=this.groups;a.length>0&&(e.data.groups=JSON.parse(JSON.stringify(a)));let o=this.boundingSphere;return o!==null&&(e.data.boundingSphere=o.toJSON()),e}clone(){return new this.constructor().copy(this)}copy(e){this.index=null,this.attributes={},this.morphAttributes={},this.groups=[],this.boundingBox=null,this.boundingSphere=null;let t={};this.name=e.name;let n=e.index;n!==null&&this.setIndex(n.clone());let r=e.attributes;for(let e in r){let n=r[e];this.setAttribute(e,n.clone(t))}let i=e.morphAttributes;for(let e in i){let n=[],r=i[e];for(let e=0,i=r.length;e<i;e++)n.push(r[e].clone(t));this.morphAttributes[e]=n}this.morphTargetsRelative=e.morphTargetsRelative;let a=e.groups;for(let e=0,t=a.length;e<t;e++){let t=a[e];this.addGroup(t.start,t.count,t.materialIndex)}let o=e.boundingBox;o!==null&&(this.boundingBox=o.clone());let s=e.boundingSphere;return s!==null&&(this.boundingSphere=s.clone()),this.drawRange.start=e.drawRange.start,this.drawRange.count=e.drawRange.count,this.userData=e.userData,this._transformed=e._transformed,this}dispose(){this.dispatchEvent({type:`dispose`})}},uc=new Q,dc=new Q,fc=new ao,pc=class{constructor(e=new Q(1,0,0),t=0){this.isPlane=!0,this.normal=e,this.constant=t}set(e,t){return this.normal.copy(e),this.constant=t,this}setComponents(e,t,n,r){return this.normal.set(e,t,n),this.constant=r,this}setFromNormalAndCoplanarPoint(e,t){return this.normal.copy(e),this.constant=-t.dot(this.normal),this}setFromCoplanarPoints(e,t,n){let r=uc.subVectors(n,t).cross(dc.subVectors(e,t)).normalize();return this.setFromNormalAndCoplanarPoint(r,e),this}copy(e){return this.normal.copy(e.normal),this.constant=e.constant,this}normalize(){let e=1/this.normal.length();return this.normal.multiplyScalar(e),this.constant*=e,this}negate(){return this.constant*=-1,this.normal.negate(),this}distanceToPoint(e){return this.normal.dot(e)+this.constant}distanceToSphere(e){return this.distanceToPoint(e.center)-e.radius}projectPoint(e,t){return t.copy(e).addScaledVector(this.normal,-this.distanceToPoint(e))}intersectLine(e,t,n=!0){let r=e.delta(uc),i=this.normal.dot(r);if(i===0)return this.distanceToPoint(e.start)===0?t.copy(e.start):null;let a=-(e.start.dot(this.normal)+this.constant)/i;return n===!0&&(a<0||a>1)?null:t.copy(e.start).addScaledVector(r,a)}intersectsLine(e){let t=this.distanceToPoint(e.start),n=this.distanceToPoint(e.end);return t<0&&n>0||n<0&&t>0}intersectsBox(e){return e.intersectsPlane(this)}intersectsSphere(e){return e.intersectsPlane(this)}coplanarPoint(e){return e.copy(this.normal).multiplyScalar(-this.constant)}applyMatrix4(e,t){let n=t||fc.getNormalMatrix(e),r=this.coplanarPoint(uc).applyMatrix4(e),i=this.normal.applyMatrix3(n).normalize();return this.constant=-r.dot(i),this}translate(e){return this.constant-=e.dot(this.normal),this}equals(e){return e.normal.equals(this.normal)&&e.constant===this.constant}clone(){return new this.constructor().copy(this)}toJSON(){return{normal:this.normal.toArray(),constant:this.constant}}fromJSON(e){return this.normal.fromArray(e.normal),this.constant=e.constant,this}},mc=0,hc=class extends Da{constructor(){super(),this.isMaterial=!0,Object.defineProperty(this,"id",{value:mc++}),this.uuid=Ma(),this.name=``,this.type=`Material`,this.blending=1,this.side=0,this.vertexColors=!1,this.opacity=1,this.transparent=!1,this.alphaHash=!1,this.blendSrc=204,this.blendDst=205,this.blendEquation=100,this.blendSrcAlpha=null,this.blendDstAlpha=null,this.blendEquationAlpha=null,this.blendColor=new cs(0,0,0),this.blendAlpha=0,this.depthFunc=3,this.depthTest=!0,this.depthWrite=!0,this.stencilWriteMask=255,this.stencilFunc=519,this.stencilRef=0,this.stencilFuncMask=255,this.stencilFail=pa,this.stencilZFail=pa,this.stencilZPass=pa,this.stencilWrite=!1,this.clippingPlanes=null,this.clipIntersection=!1,this.clipShadows=!1,this.shadowSide=null,this.colorWrite=!0,this.precision=null,this.polygonOffset=!1,this.polygonOffsetFactor=0,this.polygonOffsetUnits=0,this.dithering=!1,this.alphaToCoverage=!1,this.premultipliedAlpha=!1,this.forceSinglePass=!1,this.allowOverride=!0,this.visible=!0,this.toneMapped=!0,this.userData={},this.version=0,this._alphaTest=0}get alphaTest(){return this._alphaTest}set alphaTest(e){this._alphaTest>0!=e>0&&this.version++,this._alphaTest=e}onBeforeRender(){}onBeforeCompile(){}customProgramCacheKey(){return this.onBeforeCompile.toString()}setValues(e){if(e!==void 0)for(let t in e){let n=e[t];if(n===void 0){X(`Material: parameter '${t}' has value of undefined.`);continue}let r=this[t];r===void 0?X(`Material: '${t}' is not a property of THREE.${this.type}.`):r&&r.isColor?r.set(n):r&&r.isVector2&&n&&n.isVector2||r&&r.isEuler&&n&&n.isEuler||r&&r.isVector3&&n&&n.isVector3?r.copy(n):this[t]=n}}toJSON(e){let t=e===void 0||typeof e==`string`;t&&(e={textures:{},images:{}});let n={metadata:{version:4.7,type:`Material`,generator:`Material.toJSON`}};n.uuid=this.uuid,n.type=this.type,n.blending=this.blending,n.side=this.side,n.shadowSide=this.shadowSide,n.vertexColors=this.vertexColors,n.opacity=this.opacity,n.transparent=this.transparent,n.blendSrc=this.blendSrc,n.blendDst=this.blendDst,n.blendEquation=this.blendEquation,n.blendSrcAlpha=this.blendSrcAlpha,n.blendDstAlpha=this.blendDstAlpha,n.blendEquationAlpha=this.blendEquationAlpha,n.blendColor=this.blendColor.getHex(),n.blendAlpha=this.blendAlpha,n.depthFunc=this.depthFunc,n.depthTest=this.depthTest,n.depthWrite=this.depthWrite,n.colorWrite=this.colorWrite,n.clipIntersection=this.clipIntersection,n.clipShadows=this.clipShadows,n.stencilWriteMask=this.stencilWriteMask,n.stencilFunc=this.stencilFunc,n.stencilRef=this.stencilRef,n.stencilFuncMask=this.stencilFuncMask,n.stencilFail=this.stencilFail,n.stencilZFail=this.stencilZFail,n.stencilZPass=this.stencilZPass,n.stencilWrite=this.stencilWrite,n.polygonOffset=this.polygonOffset,n.polygonOffsetFactor=this.polygonOffsetFactor,n.polygonOffsetUnits=this.polygonOffsetUnits,n.dithering=this.dithering,n.alphaTest=this.alphaTest,n.alphaHash=this.alphaHash,n.alphaToCoverage=this.alphaToCoverage,n.premultipliedAlpha=this.premultipliedAlpha,n.forceSinglePass=this.forceSinglePass,n.allowOverride=this.allowOverride,n.visible=this.visible,n.toneMapped=this.toneMapped,n.name=this.name,this.color&&this.color.isColor&&(n.color=this.color.getHex()),this.roughness!==void 0&&(n.roughness=this.roughness),this.metalness!==void 0&&(n.metalness=this.metalness),this.sheen!==void 0&&(n.sheen=this.sheen),this.sheenColor&&this.sheenColor.isColor&&(n.sheenColor=this.sheenColor.getHex()),this.sheenRoughness!==void 0&&(n.sheenRoughness=this.sheenRoughness),this.emissive&&this.emissive.isColor&&(n.emissive=this.emissive.getHex()),this.emissiveIntensity!==void 0&&(n.emissiveIntensity=this.emissiveIntensity),this.specular&&this.specular.isColor&&(n.specular=this.specular.getHex()),this.specularIntensity!==void 0&&(n.specularIntensity=this.specularIntensity),this.specularColor&&this.specularColor.isColor&&(n.specularColor=this.specularColor.getHex()),this.shininess!==void 0&&(n.shininess=this.shininess),this.clearcoat!==void 0&&(n.clearcoat=this.clearcoat),this.clearcoatRoughness!==void 0&&(n.clearcoatRoughness=this.clearcoatRoughness),this.diffuseRoughness!==void 0&&(n.diffuseRoughness=this.diffuseRoughness),this.diffuseRoughnessMap&&this.diffuseRoughnessMap.isTexture&&(n.diffuseRoughnessMap=this.diffuseRoughnessMap.toJSON(e).uuid),this.clearcoatMap&&this.clearcoatMap.isTexture&&(n.clearcoatMap=this.clearcoatMap.toJSON(e).uuid),this.clearcoatRoughnessMap&&this.clearcoatRoughnessMap.isTexture&&(n.clearcoatRoughnessMap=this.clearcoatRoughnessMap.toJSON(e).uuid),this.clearcoatNormalMap&&this.clearcoatNormalMap.isTexture&&(n.clearcoatNormalMap=this.clearcoatNormalMap.toJSON(e).uuid,n.clearcoatNormalScale=this.clearcoatNormalScale.toArray()),this.sheenColorMap&&this.sheenColorMap.isTexture&&(n.sheenColorMap=this.sheenColorMap.toJSON(e).uuid),this.sheenRoughnessMap&&this.sheenRoughnessMap.isTexture&&(n.sheenRoughnessMap=this.sheenRoughnessMap.toJSON(e).uuid),this.dispersion!==void 0&&(n.dispersion=this.dispersion),this.retroreflectivity!==void 0&&(n.retroreflectivity=this.retroreflectivity),this.iridescence!==void 0&&(n.iridescence=this.iridescence),this.iridescenceIOR!==void 0&&(n.iridescenceIOR=this.iridescenceIOR),this.iridescenceThicknessMinimum!==void 0&&(n.iridescenceThicknessMinimum=this.iridescenceThicknessMinimum),this.iridescenceThicknessMaximum!==void 0&&(n.iridescenceThicknessMaximum=this.iridescenceThicknessMaximum),this.iridescenceMap&&this.iridescenceMap.isTexture&&(n.iridescenceMap=this.iridescenceMap.toJSON(e).uuid),this.iridescenceThicknessMap&&this.iridescenceThicknessMap.isTexture&&(n.iridescenceThicknessMap=this.iridescenceThicknessMap.toJSON(e).uuid),this.anisotropy!==void 0&&(n.anisotropy=this.anisotropy),this.anisotropyRotation!==void 0&&(n.anisotropyRotation=this.anisotropyRotation),this.anisotropyMap&&this.anisotropyMap.isTexture&&(n.anisotropyMap=this.anisotropyMap.toJSON(e).uuid),this.map&&this.map.isTexture&&(n.map=this.map.toJSON(e).uuid),this.matcap&&this.matcap.isTexture&&(n.matcap=this.matcap.toJSON(e).uuid),this.alphaMap&&this.alphaMap.isTexture&&(n.alphaMap=this.alphaMap.toJSON(e).uuid),this.lightMap&&this.lightMap.isTexture&&(n.lightMap=this.lightMap.toJSON(e).uuid,n.lightMapIntensity=this.lightMapIntensity),this.aoMap&&this.aoMap.isTexture&&(n.aoMap=this.aoMap.toJSON(e).uuid,n.aoMapIntensity=this.aoMapIntensity),this.bumpMap&&this.bumpMap.isTexture&&(n.bumpMap=this.bumpMap.toJSON(e).uuid,n.bumpScale=this.bumpScale),this.normalMap&&this.normalMap.isTexture&&(n.normalMap=this.normalMap.toJSON(e).uuid,n.normalMapType=this.normalMapType,n.normalScale=this.normalScale.toArray()),this.displacementMap&&this.displacementMap.isTexture&&(n.displacementMap=this.displacementMap.toJSON(e).uuid,n.displacementScale=this.displacementScale,n.displacementBias=this.displacementBias),this.roughnessMap&&this.roughnessMap.isTexture&&(n.roughnessMap=this.roughnessMap.toJSON(e).uuid),this.metalnessMap&&this.metalnessMap.isTexture&&(n.metalnessMap=this.metalnessMap.toJSON(e).uuid),this.emissiveMap&&this.emissiveMap.isTexture&&(n.emissiveMap=this.emissiveMap.toJSON(e).uuid),this.specularMap&&this.specularMap.isTexture&&(n.specularMap=this.specularMap.toJSON(e).uuid),this.specularIntensityMap&&this.specularIntensityMap.isTexture&&(n.specularIntensityMap=this.specularIntensityMap.toJSON(e).uuid),this.specularColorMap&&this.specularColorMap.isTexture&&(n.specularColorMap=this.specularColorMap.toJSON(e).uuid),this.envMap&&this.envMap.isTexture&&(n.envMap=this.envMap.toJSON(e).uuid,this.combine!==void 0&&(n.combine=this.combine)),this.envMapRotation!==void 0&&(n.envMapRotation=this.envMapRotation.toArray()),this.envMapIntensity!==void 0&&(n.envMapIntensity=this.envMapIntensity),this.reflectivity!==void 0&&(n.reflectivity=this.reflectivity),this.refractionRatio!==void 0&&(n.refractionRatio=this.refractionRatio),this.gradientMap&&this.gradientMap.isTexture&&(n.gradientMap=this.gradientMap.toJSON(e).uuid),this.transmission!==void 0&&(n.transmission=this.transmission),this.transmissionMap&&this.transmissionMap.isTexture&&(n.transmissionMap=this.transmissionMap.toJSON(e).uuid),this.thickness!==void 0&&(n.thickness=this.thickness),this.thicknessMap&&this.thicknessMap.isTexture&&(n.thicknessMap=this.thicknessMap.toJSON(e).uuid),this.attenuationDistance!==void 0&&(n.attenuationDistance=this.attenuationDistance),this.attenuationColor!==void 0&&(n.attenuationColor=this.attenuationColor.getHex()),this.size!==void 0&&(n.size=this.size),this.sizeAttenuation!==void 0&&(n.sizeAttenuation=this.sizeAttenuation),Array.isArray(this.clippingPlanes)&&this.clippingPlanes.length>0&&(n.clippingPlanes=this.clippingPlanes.map(e=>e.toJSON())),this.rotation!==void 0&&(n.rotation=this.rotation),this.depthPacking!==void 0&&(n.depthPacking=this.depthPacking),this.linewidth!==void 0&&(n.linewidth=this.linewidth),this.linecap!==void 0&&(n.linecap=this.linecap),this.linejoin!==void 0&&(n.linejoin=this.linejoin),this.dashSize!==void 0&&(n.dashSize=this.dashSize),this.gapSize!==void 0&&(n.gapSize=this.gapSize),this.scale!==void 0&&(n.scale=this.scale),this.wireframe!==void 0&&(n.wireframe=this.wireframe),this.wireframeLinewidth!==void 0&&(n.wireframeLinewidth=this.wireframeLinewidth),this.wireframeLinecap!==void 0&&(n.wireframeLinecap=this.wireframeLinecap),this.wireframeLinejoin!==void 0&&(n.wireframeLinejoin=this.wireframeLinejoin),this.flatShading!==void 0&&(n.flatShading=this.flatShading),this.fog!==void 0&&(n.fog=this.fog),Object.keys(this.userData).length>0&&(n.userData=this.userData);function r(e){let t=[];for(let n in e){let r=e[n];delete r.metadata,t.push(r)}return t}if(t){let t=r(e.textures),i=r(e.images);t.length>0&&(n.textures=t),i.length>0&&(n.images=i)}return n}fromJSON(e,t){if(e.uuid!==void 0&&(this.uuid=e.uuid),e.name!==void 0&&(this.name=e.name),e.color!==void 0&&this.color!==void 0&&this.color.setHex(e.color),e.roughness!==void 0&&(this.roughness=e.roughness),e.metalness!==void 0&&(this.metalness=e.metalness),e.sheen!==void 0&&(this.sheen=e.sheen),e.sheenColor!==void 0&&(this.sheenColor=new cs().setHex(e.sheenColor)),e.sheenRoughness!==void 0&&(this.sheenRoughness=e.sheenRoughness),e.emissive!==void 0&&this.emissive!==void 0&&this.emissive.setHex(e.emissive),e.specular!==void 0&&this.specular!==void 0&&this.specular.setHex(e.specular),e.specularIntensity!==void 0&&(this.specularIntensity=e.specularIntensity),e.specularColor!==void 0&&this.specularColor!==void 0&&this.specularColor.setHex(e.specularColor),e.shininess!==void 0&&(this.shininess=e.shininess),e.clearcoat!==void 0&&(this.clearcoat=e.clearcoat),e.clearcoatRoughness!==void 0&&(this.clearcoatRoughness=e.clearcoatRoughness),e.diffuseRoughness!==void 0&&(this.diffuseRoughness=e.diffuseRoughness),e.dispersion!==void 0&&(this.dispersion=e.dispersion),e.retroreflectivity!==void 0&&(this.retroreflectivity=e.retroreflectivity),e.iridescence!==void 0&&(this.iridescence=e.iridescence),e.iridescenceIOR!==void 0&&(this.iridescenceIOR=e.iridescenceIOR),e.iridescenceThicknessMinimum!==void 0&&(this.iridescenceThicknessMinimum=e.iridescenceThicknessMinimum),e.iridescenceThicknessMaximum!==void 0&&(this.iridescenceThicknessMaximum=e.iridescenceThicknessMaximum),e.iridescenceThicknessRange!==void 0&&(this.iridescenceThicknessMinimum=e.iridescenceThicknessRange[0],this.iridescenceThicknessMaximum=e.iridescenceThicknessRange[1]),e.transmission!==void 0&&(this.transmission=e.transmission),e.thickness!==void 0&&(this.thickness=e.thickness),e.attenuationDistance!==void 0&&(this.attenuationDistance=e.attenuationDistance),e.attenuationColor!==void 0&&this.attenuationColor!==void 0&&this.attenuationColor.setHex(e.attenuationColor),e.anisotropy!==void 0&&(this.anisotropy=e.anisotropy),e.anisotropyRotation!==void 0&&(this.anisotropyRotation=e.anisotropyRotation),e.fog!==void 0&&(this.fog=e.fog),e.flatShading!==void 0&&(this.flatShading=e.flatShading),e.blending!==void 0&&(this.blending=e.blending),e.combine!==void 0&&(this.combine=e.combine),e.side!==void 0&&(this.side=e.side),e.shadowSide!==void 0&&(this.shadowSide=e.shadowSide),e.opacity!==void 0&&(this.opacity=e.opacity),e.transparent!==void 0&&(this.transparent=e.transparent),e.alphaTest!==void 0&&(this.alphaTest=e.alphaTest),e.alphaHash!==void 0&&(this.alphaHash=e.alphaHash),e.depthFunc!==void 0&&(this.depthFunc=e.depthFunc),e.depthTest!==void 0&&(this.depthTest=e.depthTest),e.depthWrite!==void 0&&(this.depthWrite=e.depthWrite),e.colorWrite!==void 0&&(this.colorWrite=e.colorWrite),e.clippingPlanes!==void 0&&(this.clippingPlanes=e.clippingPlanes.map(e=>new pc().fromJSON(e))),e.clipIntersection!==void 0&&(this.clipIntersection=e.clipIntersection),e.clipShadows!==void 0&&(this.clipShadows=e.clipShadows),e.depthPacking!==void 0&&(this.depthPacking=e.depthPacking),e.blendSrc!==void 0&&(this.blendSrc=e.blendSrc),e.blendDst!==void 0&&(this.blendDst=e.blendDst),e.blendEquation!==void 0&&(this.blendEquation=e.blendEquation),e.blendSrcAlpha!==void 0&&(this.blendSrcAlpha=e.blendSrcAlpha),e.blendDstAlpha!==void 0&&(this.blendDstAlpha=e.blendDstAlpha),e.blendEquationAlpha!==void 0&&(this.blendEquationAlpha=e.blendEquationAlpha),e.blendColor!==void 0&&this.blendColor!==void 0&&this.blendColor.setHex(e.blendColor),e.blendAlpha!==void 0&&(this.blendAlpha=e.blendAlpha),e.stencilWriteMask!==void 0&&(this.stencilWriteMask=e.stencilWriteMask),e.stencilFunc!==void 0&&(this.stencilFunc=e.stencilFunc),e.stencilRef!==void 0&&(this.stencilRef=e.stencilRef),e.stencilFuncMask!==void 0&&(this.stencilFuncMask=e.stencilFuncMask),e.stencilFail!==void 0&&(this.stencilFail=e.stencilFail),e.stencilZFail!==void 0&&(this.stencilZFail=e.stencilZFail),e.stencilZPass!==void 0&&(this.stencilZPass=e.stencilZPass),e.stencilWrite!==void 0&&(this.stencilWrite=e.stencilWrite),e.wireframe!==void 0&&(this.wireframe=e.wireframe),e.wireframeLinewidth!==void 0&&(this.wireframeLinewidth=e.wireframeLinewidth),e.wireframeLinecap!==void 0&&(this.wireframeLinecap=e.wireframeLinecap),e.wireframeLinejoin!==void 0&&(this.wireframeLinejoin=e.wireframeLinejoin),e.rotation!==void 0&&(this.rotation=e.rotation),e.linewidth!==void 0&&(this.linewidth=e.linewidth),e.linecap!==void 0&&(this.linecap=e.linecap),e.linejoin!==void 0&&(this.linejoin=e.linejoin),e.dashSize!==void 0&&(this.dashSize=e.dashSize),e.gapSize!==void 0&&(this.gapSize=e.gapSize),e.scale!==void 0&&(this.scale=e.scale),e.polygonOffset!==void 0&&(this.polygonOffset=e.polygonOffset),e.polygonOffsetFactor!==void 0&&(this.polygonOffsetFactor=e.polygonOffsetFactor),e.polygonOffsetUnits!==void 0&&(this.polygonOffsetUnits=e.polygonOffsetUnits),e.dithering!==void 0&&(this.dithering=e.dithering),e.alphaToCoverage!==void 0&&(this.alphaToCoverage=e.alphaToCoverage),e.premultipliedAlpha!==void 0&&(this.premultipliedAlpha=e.premultipliedAlpha),e.forceSinglePass!==void 0&&(this.forceSinglePass=e.forceSinglePass),e.allowOverride!==void 0&&(this.allowOverride=e.allowOverride),e.visible!==void 0&&(this.visible=e.visible),e.toneMapped!==void 0&&(this.toneMapped=e.toneMapped),e.userData!==void 0&&(this.userData=e.userData),e.vertexColors!==void 0&&(this.vertexColors=typeof e.vertexColors==`number`?e.vertexColors>0:e.vertexColors),e.size!==void 0&&(this.size=e.size),e.sizeAttenuation!==void 0&&(this.sizeAttenuation=e.sizeAttenuation),e.map!==void 0&&(this.map=t[e.map]||null),e.matcap!==void 0&&(this.matcap=t[e.matcap]||null),e.alphaMap!==void 0&&(this.alphaMap=t[e.alphaMap]||null),e.bumpMap!==void 0&&(this.bumpMap=t[e.bumpMap]||null),e.bumpScale!==void 0&&(this.bumpScale=e.bumpScale),e.normalMap!==void 0&&(this.normalMap=t[e.normalMap]||null),e.normalMapType!==void 0&&(this.normalMapType=e.normalMapType),e.normalScale!==void 0){let t=e.normalScale;Array.isArray(t)===!1&&(t=[t,t]),this.normalScale=new Z().fromArray(t)}return e.displacementMap!==void 0&&(this.displacementMap=t[e.displacementMap]||null),e.displacementScale!==void 0&&(this.displacementScale=e.displacementScale),e.displacementBias!==void 0&&(this.displacementBias=e.displacementBias),e.roughnessMap!==void 0&&(this.roughnessMap=t[e.roughnessMap]||null),e.metalnessMap!==void 0&&(this.metalnessMap=t[e.metalnessMap]||null),e.emissiveMap!==void 0&&(this.emissiveMap=t[e.emissiveMap]||null),e.emissiveIntensity!==void 0&&(this.emissiveIntensity=e.emissiveIntensity),e.specularMap!==void 0&&(this.specularMap=t[e.specularMap]||null),e.specularIntensityMap!==void 0&&(this.specularIntensityMap=t[e.specularIntensityMap]||null),e.specularColorMap!==void 0&&(this.specularColorMap=t[e.specularColorMap]||null),e.envMap!==void 0&&(this.envMap=t[e.envMap]||null),e.envMapRotation!==void 0&&this.envMapRotation.fromArray(e.envMapRotation),e.envMapIntensity!==void 0&&(this.envMapIntensity=e.envMapIntensity),e.reflectivity!==void 0&&(this.reflectivity=e.reflectivity),e.refractionRatio!==void 0&&(this.refractionRatio=e.refractionRatio),e.lightMap!==void 0&&(this.lightMap=t[e.lightMap]||null),e.lightMapIntensity!==void 0&&(this.lightMapIntensity=e.lightMapIntensity),e.aoMap!==void 0&&(this.aoMap=t[e.aoMap]||null),e.aoMapIntensity!==void 0&&(this.aoMapIntensity=e.aoMapIntensity),e.gradientMap!==void 0&&(this.gradientMap=t[e.gradientMap]||null),e.clearcoatMap!==void 0&&(this.clearcoatMap=t[e.clearcoatMap]||null),e.clearcoatRoughnessMap!==void 0&&(this.clearcoatRoughnessMap=t[e.clearcoatRoughnessMap]||null),e.clearcoatNormalMap!==void 0&&(this.clearcoatNormalMap=t[e.clearcoatNormalMap]||null),e.clearcoatNormalScale!==void 0&&(this.clearcoatNormalScale=new Z().fromArray(e.clearcoatNormalScale)),e.diffuseRoughnessMap!==void 0&&(this.diffuseRoughnessMap=t[e.diffuseRoughnessMap]||null),e.iridescenceMap!==void 0&&(this.iridescenceMap=t[e.iridescenceMap]||null),e.iridescenceThicknessMap!==void 0&&(this.iridescenceThicknessMap=t[e.iridescenceThicknessMap]||null),e.transmissionMap!==void 0&&(this.transmissionMap=t[e.transmissionMap]||null),e.thicknessMap!==void 0&&(this.thicknessMap=t[e.thicknessMap]||null),e.anisotropyMap!==void 0&&(this.anisotropyMap=t[e.anisotropyMap]||null),e.sheenColorMap!==void 0&&(this.sheenColorMap=t[e.sheenColorMap]||null),e.sheenRoughnessMap!==void 0&&(this.sheenRoughnessMap=t[e.sheenRoughnessMap]||null),this}clone(){return new this.constructor().copy(this)}copy(e){this.name=e.name,this.blending=e.blending,this.side=e.side,this.vertexColors=e.vertexColors,this.opacity=e.opacity,this.transparent=e.transparent,this.blendSrc=e.blendSrc,this.blendDst=e.blendDst,this.blendEquation=e.blendEquation,this.blendSrcAlpha=e.blendSrcAlpha,this.blendDstAlpha=e.blendDstAlpha,this.blendEquationAlpha=e.blendEquationAlpha,this.blendColor.copy(e.blendColor),this.blendAlpha=e.blendAlpha,this.depthFunc=e.depthFunc,this.depthTest=e.depthTest,this.depthWrite=e.depthWrite,this.stencilWriteMask=e.stencilWriteMask,this.stencilFunc=e.stencilFunc,this.stencilRef=e.stencilRef,this.stencilFuncMask=e.stencilFuncMask,this.stencilFail=e.stencilFail,this.stencilZFail=e.stencilZFail,this.stencilZPass=e.stencilZPass,this.stencilWrite=e.stencilWrite;let t=e.clippingPlanes,n=null;if(t!==null){let e=t.length;n=Array(e);for(let r=0;r!==e;++r)n[r]=t[r].clone()}return this.clippingPlanes=n,this.clipIntersection=e.clipIntersection,this.clipShadows=e.clipShadows,this.shadowSide=e.shadowSide,this.colorWrite=e.colorWrite,this.precision=e.precision,this.polygonOffset=e.polygonOffset,this.polygonOffsetFactor=e.polygonOffsetFactor,this.polygonOffsetUnits=e.polygonOffsetUnits,this.dithering=e.dithering,this.alphaTest=e.alphaTest,this.alphaHash=e.alphaHash,this.alphaToCoverage=e.alphaToCoverage,this.premultipliedAlpha=e.premultipliedAlpha,this.forceSinglePass=e.forceSinglePass,this.allowOverride=e.allowOverride,this.visible=e.visible,this.toneMapped=e.toneMapped,this.userData=JSON.parse(JSON.stringify(e.userData)),this}dispose(){this.dispatchEvent({type:`dispose`})}set needsUpdate(e){e===!0&&this.version++}},gc=new Q,_c=new Q,vc=new Q,yc=new Q,bc=class{constructor(e=new Q,t=new Q(0,0,-1)){this.origin=e,this.direction=t}set(e,t){return this.origin.copy(e),this.direction.copy(t),this}copy(e){return this.origin.copy(e.origin),this.direction.copy(e.direction),this}at(e,t){return t.copy(this.origin).addScaledVector(this.direction,e)}lookAt(e){return this.direction.copy(e).sub(this.origin).normalize(),this}recast(e){return this.origin.copy(this.at(e,gc)),this}closestPointToPoint(e,t){t.subVectors(e,this.origin);let n=t.dot(this.direction);return n<0?t.copy(this.origin):t.copy(this.origin).addScaledVector(this.direction,n)}distanceToPoint(e){return Math.sqrt(this.distanceSqToPoint(e))}distanceSqToPoint(e){let t=gc.subVectors(e,this.origin).dot(this.direction);return t<0?this.origin.distanceToSquared(e):(gc.copy(this.origin).addScaledVector(this.direction,t),gc.distanceToSquared(e))}distanceSqToSegment(e,t,n,r){_c.copy(e).add(t).multiplyScalar(.5),vc.copy(t).sub(e).normalize(),yc.copy(this.origin).sub(_c);let i=e.distanceTo(t)*.5,a=-this.direction.dot(vc),o=yc.dot(this.direction),s=-yc.dot(vc),c=yc.lengthSq(),l=Math.abs(1-a*a),u,d,f,p;if(l>0){if(u=a*s-o,d=a*o-s,p=i*l,u>=0){if(d>=-p){if(d<=p){let e=1/l;u*=e,d*=e,f=u*(u+a*d+2*o)+d*(a*u+d+2*s)+c}else d=i,u=Math.max(0,-(a*d+o)),f=-u*u+d*(d+2*s)+c}else d=-i,u=Math.max(0,-(a*d+o)),f=-u*u+d*(d+2*s)+c}else d<=-p?(u=Math.max(0,-(-a*i+o)),d=u>0?-i:Math.min(Math.max(-i,-s),i),f=-u*u+d*(d+2*s)+c):d<=p?(u=0,d=Math.min(Math.max(-i,-s),i),f=d*(d+2*s)+c):(u=Math.max(0,-(a*i+o)),d=u>0?i:Math.min(Math.max(-i,-s),i),f=-u*u+d*(d+2*s)+c)}else d=a>0?-i:i,u=Math.max(0,-(a*d+o)),f=-u*u+d*(d+2*s)+c;return n&&n.copy(this.origin).addScaledVector(this.direction,u),r&&r.copy(_c).addScaledVector(vc,d),f}intersectSphere(e,t){if(e.radius<0)return null;gc.subVectors(e.center,this.origin);let n=gc.dot(this.direction),r=gc.dot(gc)-n*n,i=e.radius*e.radius;if(r>i)return null;let a=Math.sqrt(i-r),o=n-a,s=n+a;return s<0?null:o<0?this.at(s,t):this.at(o,t)}intersectsSphere(e){return e.radius<0?!1:this.distanceSqToPoint(e.center)<=e.radius*e.radius}distanceToPlane(e){let t=e.normal.dot(this.direction);if(t===0)return e.distanceToPoint(this.origin)===0?0:null;let n=-(this.origin.dot(e.normal)+e.constant)/t;return n>=0?n:null}intersectPlane(e,t){let n=this.distanceToPlane(e);return n===null?null:this.at(n,t)}intersectsPlane(e){let t=e.distanceToPoint(this.origin);return t===0||e.normal.dot(this.direction)*t<0}intersectBox(e,t){let n,r,i,a,o,s,c=1/this.direction.x,l=1/this.direction.y,u=1/this.direction.z,d=this.origin;return c>=0?(n=(e.min.x-d.x)*c,r=(e.max.x-d.x)*c):(n=(e.max.x-d.x)*c,r=(e.min.x-d.x)*c),l>=0?(i=(e.min.y-d.y)*l,a=(e.max.y-d.y)*l):(i=(e.max.y-d.y)*l,a=(e.min.y-d.y)*l),n>a||i>r||((i>n||isNaN(n))&&(n=i),(a<r||isNaN(r))&&(r=a),u>=0?(o=(e.min.z-d.z)*u,s=(e.max.z-d.z)*u):(o=(e.max.z-d.z)*u,s=(e.min.z-d.z)*u),n>s||o>r)||((o>n||n!==n)&&(n=o),(s<r||r!==r)&&(r=s),r<0)?null:this.at(n>=0?n:r,t)}intersectsBox(e){return this.intersectBox(e,gc)!==null}intersectTriangle(e,t,n,r,i){let a=this.origin,o=this.direction,s=o.x,c=o.y,l=o.z,u=e.x-a.x,d=e.y-a.y,f=e.z-a.z,p=t.x-a.x,m=t.y-a.y,h=t.z-a.z,g=n.x-a.x,_=n.y-a.y,v=n.z-a.z,y=Math.abs(s),b=Math.abs(c),x=Math.abs(l),S,C,w,T,E,D,O,k,A,j,M,N;if(y>=b&&y>=x?(w=s,D=u,A=p,N=g,s>=0?(S=c,C=l,T=d,E=f,O=m,k=h,j=_,M=v):(S=l,C=c,T=f,E=d,O=h,k=m,j=v,M=_)):b>=x?(w=c,D=d,A=m,N=_,c>=0?(S=l,C=s,T=f,E=u,O=h,k=p,j=v,M=g):(S=s,C=l,T=u,E=f,O=p,k=h,j=g,M=v)):(w=l,D=f,A=h,N=v,l>=0?(S=s,C=c,T=u,E=d,O=p,k=m,j=g,M=_):(S=c,C=s,T=d,E=u,O=m,k=p,j=_,M=g)),w===0)return null;let ee=S/w,te=C/w,ne=1/w,re=T-ee*D,P=E-te*D,F=O-ee*A,ie=k-te*A,I=j-ee*N,ae=M-te*N,L=I*ie-ae*F,oe=re*ae-P*I,R=F*P-ie*re;if(r){if(L<0||oe<0||R<0)return null}else if((L<0||oe<0||R<0)&&(L>0||oe>0||R>0))return null;let se=L+oe+R;if(se===0)return null;let ce=ne*(L*D+oe*A+R*N);return(se>0?ce<0:ce>0)?null:this.at(ce/se,i)}applyMatrix4(e){return this.origin.applyMatrix4(e),this.direction.transformDirection(e),this}equals(e){return e.origin.equals(this.origin)&&e.direction.equals(this.direction)}clone(){return new this.constructor().copy(this)}},xc=class extends hc{constructor(e){super(),this.isMeshBasicMaterial=!0,this.type=`MeshBasicMaterial`,this.color=new cs(16777215),this.map=null,this.lightMap=null,this.lightMapIntensity=1,this.aoMap=null,this.aoMapIntensity=1,this.specularMap=null,this.alphaMap=null,this.envMap=null,this.envMapRotation=new Lo,this.combine=0,this.reflectivity=1,this.refractionRatio=.98,this.wireframe=!1,this.wireframeLinewidth=1,this.wireframeLinecap=`round`,this.wireframeLinejoin=`round`,this.fog=!0,this.setValues(e)}copy(e){return super.copy(e),this.color.copy(e.color),this.map=e.map,this.lightMap=e.lightMap,this.lightMapIntensity=e.lightMapIntensity,this.aoMap=e.aoMap,this.aoMapIntensity=e.aoMapIntensity,this.specularMap=e.specularMap,this.alphaMap=e.alphaMap,this.envMap=e.envMap,this.envMapRotation.copy(e.envMapRotation),this.combine=e.combine,this.reflectivity=e.reflectivity,this.refractionRatio=e.refractionRatio,this.wireframe=e.wireframe,this.wireframeLinewidth=e.wireframeLinewidth,this.wireframeLinecap=e.wireframeLinecap,this.wireframeLinejoin=e.wireframeLinejoin,this.fog=e.fog,this}},Sc=new Do,Cc=new bc,wc=new tc,Tc=new Q,Ec=new Q,Dc=new Q,Oc=new Q,kc=new Q,Ac=new Q,jc=new Q,Mc=new Q,Nc=class extends es{constructor(e=new lc,t=new xc){super(),this.isMesh=!0,this.type=`Mesh`,this.geometry=e,this.material=t,this.morphTargetDictionary=void 0,this.morphTargetInfluences=void 0,this.count=1,this.updateMorphTargets()}copy(e,t){return super.copy(e,t),this.morphTargetInfluences=e.morphTargetInfluences===void 0?void 0:e.morphTargetInfluences.slice(),this.morphTargetDictionary=e.morphTargetDictionary===void 0?void 0:Object.assign({},e.morphTargetDictionary),this.material=Array.isArray(e.material)?e.material.slice():e.material,this.geometry=e.geometry,this}updateMorphTargets(){let e=this.geometry.morphAttributes,t=Object.keys(e);if(t.length>0){let n=e[t[0]];if(n!==void 0){this.morphTargetInfluences=[],this.morphTargetDictionary={};for(let e=0,t=n.length;e<t;e++){let t=n[e].name||String(e);this.morphTargetInfluences.push(0),this.morphTargetDictionary[t]=e}}}}getVertexPosition(e,t){let n=this.geometry,r=n.attributes.position,i=n.morphAttributes.position,a=n.morphTargetsRelative;t.fromBufferAttribute(r,e);let o=this.morphTargetInfluences;if(i&&o){Ac.set(0,0,0);for(let n=0,r=i.length;n<r;n++){let r=o[n],s=i[n];r!==0&&(kc.fromBufferAttribute(s,e),a?Ac.addScaledVector(kc,r):Ac.addScaledVector(kc.sub(t),r))}t.add(Ac)}return t}intersectsFrustum(e){return e.intersectsObject(this)}raycast(e,t){let n=this.geometry,r=this.material,i=this.matrixWorld;r!==void 0&&(n.boundingSphere===null&&n.computeBoundingSphere(),wc.copy(n.boundingSphere),wc.applyMatrix4(i),Cc.copy(e.ray).recast(e.near),wc.containsPoint(Cc.origin)===!1&&(Cc.intersectSphere(wc,Tc)===null||Cc.origin.distanceToSquared(Tc)>(e.far-e.near)**2)||(Sc.copy(i).invert(),Cc.copy(e.ray).applyMatrix4(Sc),(n.boundingBox===null||Cc.intersectsBox(n.boundingBox)!==!1)&&this._computeIntersections(e,t,Cc)))}_computeIntersections(e,t,n){let r,i=this.geometry,a=this.material,o=i.index,s=i.attributes.position,c=i.attributes.uv,l=i.attributes.uv1,u=i.attributes.normal,d=i.groups,f=i.drawRange;if(o!==null){if(Array.isArray(a))for(let i=0,s=d.length;i<s;i++){let s=d[i],p=a[s.materialIndex],m=Math.max(s.start,f.start),h=Math.min(o.count,Math.min(s.start+s.count,f.start+f.count));for(let i=m,a=h;i<a;i+=3){let a=o.getX(i),d=o.getX(i+1),f=o.getX(i+2);r=Fc(this,p,e,n,c,l,u,a,d,f),r&&(r.faceIndex=Math.floor(i/3),r.face.materialIndex=s.materialIndex,t.push(r))}}else{let i=Math.max(0,f.start),s=Math.min(o.count,f.start+f.count);for(let d=i,f=s;d<f;d+=3){let i=o.getX(d),s=o.getX(d+1),f=o.getX(d+2);r=Fc(this,a,e,n,c,l,u,i,s,f),r&&(r.faceIndex=Math.floor(d/3),t.push(r))}}}else if(s!==void 0){if(Array.isArray(a))for(let i=0,o=d.length;i<o;i++){let o=d[i],p=a[o.materialIndex],m=Math.max(o.start,f.start),h=Math.min(s.count,Math.min(o.start+o.count,f.start+f.count));for(let i=m,a=h;i<a;i+=3){let a=i,s=i+1,d=i+2;r=Fc(this,p,e,n,c,l,u,a,s,d),r&&(r.faceIndex=Math.floor(i/3),r.face.materialIndex=o.materialIndex,t.push(r))}}else{let i=Math.max(0,f.start),o=Math.min(s.count,f.start+f.count);for(let s=i,d=o;s<d;s+=3){let i=s,o=s+1,d=s+2;r=Fc(this,a,e,n,c,l,u,i,o,d),r&&(r.faceIndex=Math.floor(s/3),t.push(r))}}}}};function Pc(e,t,n,r,i,a,o,s){let c;if(c=t.side===1?r.intersectTriangle(o,a,i,!0,s):r.intersectTriangle(i,a,o,t.side===0,s),c===null)return null;Mc.copy(s),Mc.applyMatrix4(e.matrixWorld);let l=n.ray.origin.distanceTo(Mc);return l<n.near||l>n.far?null:{distance:l,point:Mc.clone(),object:e}}function Fc(e,t,n,r,i,a,o,s,c,l){e.getVertexPosition(s,Ec),e.getVertexPosition(c,Dc),e.getVertexPosition(l,Oc);let u=Pc(e,t,n,r,Ec,Dc,Oc,jc);if(u){let e=new Q;ws.getBarycoord(jc,Ec,Dc,Oc,e),i&&(u.uv=ws.getInterpolatedAttribute(i,s,c,l,e,new Z)),a&&(u.uv1=ws.getInterpolatedAttribute(a,s,c,l,e,new Z)),o&&(u.normal=ws.getInterpolatedAttribute(o,s,c,l,e,new Q),u.normal.dot(r.direction)>0&&u.normal.multiplyScalar(-1));let t={a:s,b:c,c:l,normal:new Q,materialIndex:0};ws.getNormal(Ec,Dc,Oc,t.normal),u.face=t,u.barycoord=e}return u}var Ic=class extends xo{constructor(e=null,t=1,n=1,r,i,a,o,s,c=Wr,l=Wr,u,d){super(null,a,o,s,c,l,r,i,u,d),this.isDataTexture=!0,this.image={data:e,width:t,height:n},this.generateMipmaps=!1,this.flipY=!1,this.unpackAlignment=1}},Lc=new tc,Rc=new Z(.5,.5),zc=new Q,Bc=class{constructor(e=new pc,t=new pc,n=new pc,r=new pc,i=new pc,a=new pc){this.planes=[e,t,n,r,i,a]}set(e,t,n,r,i,a){let o=this.planes;return o[0].copy(e),o[1].copy(t),o[2].copy(n),o[3].copy(r),o[4].copy(i),o[5].copy(a),this}copy(e){let t=this.planes;for(let n=0;n<6;n++)t[n].copy(e.planes[n]);return this}setFromProjectionMatrix(e,t=ha,n=!1){let r=this.planes,i=e.elements,a=i[0],o=i[1],s=i[2],c=i[3],l=i[4],u=i[5],d=i[6],f=i[7],p=i[8],m=i[9],h=i[10],g=i[11],_=i[12],v=i[13],y=i[14],b=i[15];if(r[0].setComponents(c-a,f-l,g-p,b-_).normalize(),r[1].setComponents(c+a,f+l,g+p,b+_).normalize(),r[2].setComponents(c+o,f+u,g+m,b+v).normalize(),r[3].setComponents(c-o,f-u,g-m,b-v).normalize(),n)r[4].setComponents(s,d,h,y).normalize(),r[5].setComponents(c-s,f-d,g-h,b-y).normalize();else if(r[4].setComponents(c-s,f-d,g-h,b-y).normalize(),t===2e3)r[5].setComponents(c+s,f+d,g+h,b+y).normalize();else if(t===2001)r[5].setComponents(s,d,h,y).normalize();else throw Error(`THREE.Frustum.setFromProjectionMatrix(): Invalid coordinate system: `+t);return this}intersectsObject(e){if(e.boundingSphere!==void 0)e.boundingSphere===null&&e.computeBoundingSphere(),Lc.copy(e.boundingSphere).applyMatrix4(e.matrixWorld);else{let t=e.geometry;t.boundingSphere===null&&t.computeBoundingSphere(),Lc.copy(t.boundingSphere).applyMatrix4(e.matrixWorld)}return this.intersectsSphere(Lc)}intersectsSprite(e){return Lc.center.set(0,0,0),Lc.radius=.7071067811865476+Rc.distanceTo(e.center),Lc.applyMatrix4(e.matrixWorld),this.intersectsSphere(Lc)}intersectsSphere(e){let t=this.planes,n=e.center,r=-e.radius;for(let e=0;e<6;e++)if(t[e].distanceToPoint(n)<r)return!1;return!0}intersectsBox(e){let t=this.planes;for(let n=0;n<6;n++){let r=t[n];if(zc.x=r.normal.x>0?e.max.x:e.min.x,zc.y=r.normal.y>0?e.max.y:e.min.y,zc.z=r.normal.z>0?e.max.z:e.min.z,r.distanceToPoint(zc)<0)return!1}return!0}containsPoint(e){let t=this.planes;for(let n=0;n<6;n++)if(t[n].distanceToPoint(e)<0)return!1;return!0}clone(){return new this.constructor().copy(this)}},Vc=new Do,Hc=class e{constructor(){this.coordinateSystem=ha,this._frustums=[],this._count=0}setFromArrayCamera(e){let t=e.cameras,n=this._frustums;for(let e=0;e<t.length;e++){let r=t[e];Vc.multiplyMatrices(r.projectionMatrix,r.matrixWorldInverse),n[e]===void 0&&(n[e]=new Bc),n[e].setFromProjectionMatrix(Vc,r.coordinateSystem,r.reversedDepth)}return this._count=t.length,this}getFrustum(e){return this._frustums[e]}intersectsObject(e){let t=this._frustums;for(let n=0;n<this._count;n++)if(t[n].intersectsObject(e))return!0;return!1}intersectsSprite(e){let t=this._frustums;for(let n=0;n<this._count;n++)if(t[n].intersectsSprite(e))return!0;return!1}intersectsSphere(e){let t=this._frustums;for(let n=0;n<this._count;n++)if(t[n].intersectsSphere(e))return!0;return!1}intersectsBox(e){let t=this._frustums;for(let n=0;n<this._count;n++)if(t[n].intersectsBox(e))return!0;return!1}containsPoint(e){let t=this._frustums;for(let n=0;n<this._count;n++)if(t[n].containsPoint(e))return!0;return!1}copy(e){this.coordinateSystem=e.coordinateSystem;let t=this._frustums,n=e._frustums;for(let r=0;r<e._count;r++)t[r]===void 0&&(t[r]=new Bc),t[r].copy(n[r]);return this._count=e._count,this}clone(){return new e().copy(this)}},Uc=class extends hc{constructor(e){super(),this.isLineBasicMaterial=!0,this.type=`LineBasicMaterial`,this.color=new cs(16777215),this.map=null,this.linewidth=1,this.linecap=`round`,this.linejoin=`round`,this.fog=!0,this.setValues(e)}copy(e){return super.copy(e),this.color.copy(e.color),this.map=e.map,this.linewidth=e.linewidth,this.linecap=e.linecap,this.linejoin=e.linejoin,this.fog=e.fog,this}},Wc=new Q,Gc=new Q,Kc=new Do,qc=new bc,Jc=new tc,Yc=new Q,Xc=new Q,Zc=class extends es{constructor(e=new lc,t=new Uc){super(),this.isLine=!0,this.type=`Line`,this.geometry=e,this.material=t,this.morphTargetDictionary=void 0,this.morphTargetInfluences=void 0,this.updateMorphTargets()}copy(e,t){return super.copy(e,t),this.morphTargetInfluences=e.morphTargetInfluences===void 0?void 0:e.morphTargetInfluences.slice(),this.morphTargetDictionary=e.morphTargetDictionary===void 0?void 0:Object.assign({},e.morphTargetDictionary),this.material=Array.isArray(e.material)?e.material.slice():e.material,this.geometry=e.geometry,this}computeLineDistances(){let e=this.geometry;if(e.index===null){let t=e.attributes.position,n=[0];for(let e=1,r=t.count;e<r;e++)Wc.fromBufferAttribute(t,e-1),Gc.fromBufferAttribute(t,e),n[e]=n[e-1],n[e]+=Wc.distanceTo(Gc);e.setAttribute(`lineDistance`,new Zs(n,1))}else X(`Line.computeLineDistances(): Computation only possible with non-indexed BufferGeometry.`);return this}intersectsFrustum(e){return e.intersectsObject(this)}raycast(e,t){let n=this.geometry,r=this.matrixWorld,i=e.params.Line.threshold,a=n.drawRange;if(n.boundingSphere===null&&n.computeBoundingSphere(),Jc.copy(n.boundingSphere),Jc.applyMatrix4(r),Jc.radius+=i,e.ray.intersectsSphere(Jc)===!1)return;Kc.copy(r).invert(),qc.copy(e.ray).applyMatrix4(Kc);let o=i/((this.scale.x+this.scale.y+this.scale.z)/3),s=o*o,c=this.isLineSegments?2:1,l=n.index,u=n.attributes.position;if(l!==null){let n=Math.max(0,a.start),r=Math.min(l.count,a.start+a.count);for(let i=n,a=r-1;i<a;i+=c){let n=l.getX(i),r=l.getX(i+1),a=Qc(this,e,qc,s,n,r,i);a&&t.push(a)}if(this.isLineLoop){let i=l.getX(r-1),a=l.getX(n),o=Qc(this,e,qc,s,i,a,r-1);o&&t.push(o)}}else{let n=Math.max(0,a.start),r=Math.min(u.count,a.start+a.count);for(let i=n,a=r-1;i<a;i+=c){let n=Qc(this,e,qc,s,i,i+1,i);n&&t.push(n)}if(this.isLineLoop){let i=Qc(this,e,qc,s,r-1,n,r-1);i&&t.push(i)}}}updateMorphTargets(){let e=this.geometry.morphAttributes,t=Object.keys(e);if(t.length>0){let n=e[t[0]];if(n!==void 0){this.morphTargetInfluences=[],this.morphTargetDictionary={};for(let e=0,t=n.length;e<t;e++){let t=n[e].name||String(e);this.morphTargetInfluences.push(0),this.morphTargetDictionary[t]=e}}}}};function Qc(e,t,n,r,i,a,o){let s=e.geometry.attributes.position;if(Wc.fromBufferAttribute(s,i),Gc.fromBufferAttribute(s,a),n.distanceSqToSegment(Wc,Gc,Yc,Xc)>r)return;Yc.applyMatrix4(e.matrixWorld);let c=t.ray.origin.distanceTo(Yc);if(!(c<t.near||c>t.far))return{distance:c,point:Xc.clone().applyMatrix4(e.matrixWorld),index:o,face:null,faceIndex:null,barycoord:null,object:e}}var $c=new Q,el=new Q,tl=class extends Zc{constructor(e,t){super(e,t),this.isLineSegments=!0,this.type=`LineSegments`}computeLineDistances(){let e=this.geometry;if(e.index===null){let t=e.attributes.position,n=[];for(let e=0,r=t.count;e<r;e+=2)$c.fromBufferAttribute(t,e),el.fromBufferAttribute(t,e+1),n[e]=e===0?0:n[e-1],n[e+1]=n[e]+$c.distanceTo(el);e.setAttribute(`lineDistance`,new Zs(n,1))}else X(`LineSegments.computeLineDistances(): Computation only possible with non-indexed BufferGeometry.`);return this}},nl=class extends hc{constructor(e){super(),this.isPointsMaterial=!0,this.type=`PointsMaterial`,this.color=new cs(16777215),this.map=null,this.alphaMap=null,this.size=1,this.sizeAttenuation=!0,this.fog=!0,this.setValues(e)}copy(e){return super.copy(e),this.color.copy(e.color),this.map=e.map,this.alphaMap=e.alphaMap,this.size=e.size,this.sizeAttenuation=e.sizeAttenuation,this.fog=e.fog,this}},rl=new Do,il=new bc,al=new tc,ol=new Q,sl=class extends es{constructor(e=new lc,t=new nl){super(),this.isPoints=!0,this.type=`Points`,this.geometry=e,this.material=t,this.morphTargetDictionary=void 0,this.morphTargetInfluences=void 0,this.updateMorphTargets()}copy(e,t){return super.copy(e,t),this.morphTargetInfluences=e.morphTargetInfluences===void 0?void 0:e.morphTargetInfluences.slice(),this.morphTargetDictionary=e.morphTargetDictionary===void 0?void 0:Object.assign({},e.morphTargetDictionary),this.material=Array.isArray(e.material)?e.material.slice():e.material,this.geometry=e.geometry,this}intersectsFrustum(e){return e.intersectsObject(this)}raycast(e,t){let n=this.geometry,r=this.matrixWorld,i=e.params.Points.threshold,a=n.drawRange;if(n.boundingSphere===null&&n.computeBoundingSphere(),al.copy(n.boundingSphere),al.applyMatrix4(r),al.radius+=i,e.ray.intersectsSphere(al)===!1)return;rl.copy(r).invert(),il.copy(e.ray).applyMatrix4(rl);let o=i/((this.scale.x+this.scale.y+this.scale.z)/3),s=o*o,c=n.index,l=n.attributes.position;if(c!==null){let n=Math.max(0,a.start),i=Math.min(c.count,a.start+a.count);for(let a=n,o=i;a<o;a++){let n=c.getX(a);ol.fromBufferAttribute(l,n),cl(ol,n,s,r,e,t,this)}}else{let n=Math.max(0,a.start),i=Math.min(l.count,a.start+a.count);for(let a=n,o=i;a<o;a++)ol.fromBufferAttribute(l,a),cl(ol,a,s,r,e,t,this)}}updateMorphTargets(){let e=this.geometry.morphAttributes,t=Object.keys(e);if(t.length>0){let n=e[t[0]];if(n!==void 0){this.morphTargetInfluences=[],this.morphTargetDictionary={};for(let e=0,t=n.length;e<t;e++){let t=n[e].name||String(e);this.morphTargetInfluences.push(0),this.morphTargetDictionary[t]=e}}}}};function cl(e,t,n,r,i,a,o){let s=il.distanceSqToPoint(e);if(s<n){let n=new Q;il.closestPointToPoint(e,n),n.applyMatrix4(r);let c=i.ray.origin.distanceTo(n);if(c<i.near||c>i.far)return;a.push({distance:c,distanceToRay:Math.sqrt(s),point:n,index:t,face:null,faceIndex:null,barycoord:null,object:o})}}var ll=class extends xo{constructor(e=[],t=301,n,r,i,a,o,s,c,l){super(e,t,n,r,i,a,o,s,c,l),this.isCubeTexture=!0,this.flipY=!1}get images(){return this.image}set images(e){this.image=e}},ul=class extends xo{constructor(e,t,n=ti,r,i,a,o=Wr,s=Wr,c,l=fi,u=1){if(l!==1026&&l!==1027)throw Error(`THREE.DepthTexture: format must be either THREE.DepthFormat or THREE.DepthStencilFormat`);super({width:e,height:t,depth:u},r,i,a,o,s,l,n,c),this.isDepthTexture=!0,this.flipY=!1,this.generateMipmaps=!1,this.compareFunction=null}copy(e){return super.copy(e),this.source=new _o(Object.assign({},e.image)),this.compareFunction=e.compareFunction,this}toJSON(e){let t=super.toJSON(e);return t.compareFunction=this.compareFunction,t}},dl=class extends ul{constructor(e,t=ti,n=301,r,i,a=Wr,o=Wr,s,c=fi){let l={width:e,height:e,depth:1},u=[l,l,l,l,l,l];super(e,e,t,n,r,i,a,o,s,c),this.image=u,this.isCubeDepthTexture=!0,this.isCubeTexture=!0}get images(){return this.image}set images(e){this.image=e}},fl=class extends xo{constructor(e=null){super(),this.sourceTexture=e,this.isExternalTexture=!0}copy(e){return super.copy(e),this.sourceTexture=e.sourceTexture,this}},pl=class e extends lc{constructor(e=1,t=1,n=1,r=1,i=1,a=1){super(),this.type=`BoxGeometry`,this.parameters={width:e,height:t,depth:n,widthSegments:r,heightSegments:i,depthSegments:a};let o=this;r=Math.floor(r),i=Math.floor(i),a=Math.floor(a);let s=[],c=[],l=[],u=[],d=0,f=0;p(`z`,`y`,`x`,-1,-1,n,t,e,a,i,0),p(`z`,`y`,`x`,1,-1,n,t,-e,a,i,1),p(`x`,`z`,`y`,1,1,e,n,t,r,a,2),p(`x`,`z`,`y`,1,-1,e,n,-t,r,a,3),p(`x`,`y`,`z`,1,-1,e,t,n,r,i,4),p(`x`,`y`,`z`,-1,-1,e,t,-n,r,i,5),this.setIndex(s),this.setAttribute(`position`,new Zs(c,3)),this.setAttribute(`normal`,new Zs(l,3)),this.setAttribute(`uv`,new Zs(u,2));function p(e,t,n,r,i,a,p,m,h,g,_){let v=a/h,y=p/g,b=a/2,x=p/2,S=m/2,C=h+1,w=g+1,T=0,E=0,D=new Q;for(let a=0;a<w;a++){let o=a*y-x;for(let s=0;s<C;s++)D[e]=(s*v-b)*r,D[t]=o*i,D[n]=S,c.push(D.x,D.y,D.z),D[e]=0,D[t]=0,D[n]=m>0?1:-1,l.push(D.x,D.y,D.z),u.push(s/h),u.push(1-a/g),T+=1}for(let e=0;e<g;e++)for(let t=0;t<h;t++){let n=d+t+C*e,r=d+t+C*(e+1),i=d+(t+1)+C*(e+1),a=d+(t+1)+C*e;s.push(n,r,a),s.push(r,i,a),E+=6}o.addGroup(f,E,_),f+=E,d+=T}}copy(e){return super.copy(e),this.parameters=Object.assign({},e.parameters),this}static fromJSON(t){return new e(t.width,t.height,t.depth,t.widthSegments,t.heightSegments,t.depthSegments)}},ml=new Q,hl=new Q,gl=new Q,_l=new ws,vl=class extends lc{constructor(e=null,t=1){if(super(),this.type=`EdgesGeometry`,this.parameters={geometry:e,thresholdAngle:t},e!==null){let n=1e4,r=Math.cos(Aa*t),i=e.getIndex(),a=e.getAttribute(`position`),o=i?i.count:a.count,s=[0,0,0],c=[`a`,`b`,`c`],l=[,,,],u=new Map,d=[];for(let e=0;e<o;e+=3){i?(s[0]=i.getX(e),s[1]=i.getX(e+1),s[2]=i.getX(e+2)):(s[0]=e,s[1]=e+1,s[2]=e+2);let{a:t,b:o,c:f}=_l;if(t.fromBufferAttribute(a,s[0]),o.fromBufferAttribute(a,s[1]),f.fromBufferAttribute(a,s[2]),_l.getNormal(gl),l[0]=`${Math.round(t.x*n)},${Math.round(t.y*n)},${Math.round(t.z*n)}`,l[1]=`${Math.round(o.x*n)},${Math.round(o.y*n)},${Math.round(o.z*n)}`,l[2]=`${Math.round(f.x*n)},${Math.round(f.y*n)},${Math.round(f.z*n)}`,l[0]!==l[1]&&l[1]!==l[2]&&l[2]!==l[0])for(let e=0;e<3;e++){let t=(e+1)%3,n=l[e],i=l[t],a=_l[c[e]],o=_l[c[t]],f=`${n}_${i}`,p=`${i}_${n}`,m=u.get(p);m?(gl.dot(m.normal)<=r&&(d.push(a.x,a.y,a.z),d.push(o.x,o.y,o.z)),u.set(p,null)):u.has(f)||u.set(f,{index0:s[e],index1:s[t],normal:gl.clone()})}}for(let e of u.values())if(e){let{index0:t,index1:n}=e;ml.fromBufferAttribute(a,t),hl.fromBufferAttribute(a,n),d.push(ml.x,ml.y,ml.z),d.push(hl.x,hl.y,hl.z)}this.setAttribute(`position`,new Zs(d,3))}}copy(e){return super.copy(e),this.parameters=Object.assign({},e.parameters),this}},yl=class{constructor(){this.type=`Curve`,this.arcLengthDivisions=200,this.needsUpdate=!1,this.cacheArcLengths=null}getPoint(){X(`Curve: .getPoint() not implemented.`)}getPointAt(e,t){let n=this.getUtoTmapping(e);return this.getPoint(n,t)}getPoints(e=5){let t=[];for(let n=0;n<=e;n++)t.push(this.getPoint(n/e));return t}getSpacedPoints(e=5){let t=[];for(let n=0;n<=e;n++)t.push(this.getPointAt(n/e));return t}getLength(){let e=this.getLengths();return e[e.length-1]}getLengths(e=this.arcLengthDivisions){if(this.cacheArcLengths&&this.cacheArcLengths.length===e+1&&!this.needsUpdate)return this.cacheArcLengths;this.needsUpdate=!1;let t=[],n,r=this.getPoint(0),i=0;t.push(0);for(let a=1;a<=e;a++)n=this.getPoint(a/e),i+=n.distanceTo(r),t.push(i),r=n;return this.cacheArcLengths=t,t}updateArcLengths(){this.needsUpdate=!0,this.getLengths()}getUtoTmapping(e,t=null){let n=this.getLengths(),r=0,i=n.length,a;a=t||e*n[i-1];let o=0,s=i-1,c;for(;o<=s;)if(r=Math.floor(o+(s-o)/2),c=n[r]-a,c<0)o=r+1;else if(c>0)s=r-1;else{s=r;break}if(r=s,n[r]===a)return r/(i-1);let l=n[r],u=n[r+1]-l,d=(a-l)/u;return(r+d)/(i-1)}getTangent(e,t){let n=1e-4,r=e-n,i=e+n;r<0&&(r=0),i>1&&(i=1);let a=this.getPoint(r),o=this.getPoint(i),s=t||(a.isVector2?new Z:new Q);return s.copy(o).sub(a).normalize(),s}getTangentAt(e,t){let n=this.getUtoTmapping(e);return this.getTangent(n,t)}computeFrenetFrames(e,t=!1){let n=new Q,r=[],i=[],a=[],o=new Q,s=new Do;for(let t=0;t<=e;t++){let n=t/e;r[t]=this.getTangentAt(n,new Q)}i[0]=new Q,a[0]=new Q;let c=Number.MAX_VALUE,l=Math.abs(r[0].x),u=Math.abs(r[0].y),d=Math.abs(r[0].z);l<=c&&(c=l,n.set(1,0,0)),u<=c&&(c=u,n.set(0,1,0)),d<=c&&n.set(0,0,1),o.crossVectors(r[0],n).normalize(),i[0].crossVectors(r[0],o),a[0].crossVectors(r[0],i[0]);for(let t=1;t<=e;t++){if(i[t]=i[t-1].clone(),a[t]=a[t-1].clone(),o.crossVectors(r[t-1],r[t]),o.length()>2**-52){o.normalize();let e=Math.acos(Na(r[t-1].dot(r[t]),-1,1));i[t].applyMatrix4(s.makeRotationAxis(o,e))}a[t].crossVectors(r[t],i[t])}if(t===!0){let t=Math.acos(Na(i[0].dot(i[e]),-1,1));t/=e,r[0].dot(o.crossVectors(i[0],i[e]))>0&&(t=-t);for(let n=1;n<=e;n++)i[n].applyMatrix4(s.makeRotationAxis(r[n],t*n)),a[n].crossVectors(r[n],i[n])}return{tangents:r,normals:i,binormals:a}}clone(){return new this.constructor().copy(this)}copy(e){return this.arcLengthDivisions=e.arcLengthDivisions,this.cacheArcLengths=null,this}toJSON(){let e={metadata:{version:4.7,type:`Curve`,generator:`Curve.toJSON`}};return e.arcLengthDivisions=this.arcLengthDivisions,e.type=this.type,e}fromJSON(e){return this.arcLengthDivisions=e.arcLengthDivisions,this.cacheArcLengths=null,this}},bl=class extends yl{constructor(e=0,t=0,n=1,r=1,i=0,a=Math.PI*2,o=!1,s=0){super(),this.isEllipseCurve=!0,this.type=`EllipseCurve`,this.aX=e,this.aY=t,this.xRadius=n,this.yRadius=r,this.aStartAngle=i,this.aEndAngle=a,this.aClockwise=o,this.aRotation=s}getPoint(e,t=new Z){let n=t,r=Math.PI*2,i=this.aEndAngle-this.aStartAngle,a=Math.abs(i)<2**-52;for(;i<0;)i+=r;for(;i>r;)i-=r;i<2**-52&&(i=a?0:r),this.aClockwise===!0&&!a&&(i===r?i=-r:i-=r);let o=this.aStartAngle+e*i,s=this.aX+this.xRadius*Math.cos(o),c=this.aY+this.yRadius*Math.sin(o);if(this.aRotation!==0){let e=Math.cos(this.aRotation),t=Math.sin(this.aRotation),n=s-this.aX,r=c-this.aY;s=n*e-r*t+this.aX,c=n*t+r*e+this.aY}return n.set(s,c)}copy(e){return super.copy(e),this.aX=e.aX,this.aY=e.aY,this.xRadius=e.xRadius,this.yRadius=e.yRadius,this.aStartAngle=e.aStartAngle,this.aEndAngle=e.aEndAngle,this.aClockwise=e.aClockwise,this.aRotation=e.aRotation,this}toJSON(){let e=super.toJSON();return e.aX=this.aX,e.aY=this.aY,e.xRadius=this.xRadius,e.yRadius=this.yRadius,e.aStartAngle=this.aStartAngle,e.aEndAngle=this.aEndAngle,e.aClockwise=this.aClockwise,e.aRotation=this.aRotation,e}fromJSON(e){return super.fromJSON(e),this.aX=e.aX,this.aY=e.aY,this.xRadius=e.xRadius,this.yRadius=e.yRadius,this.aStartAngle=e.aStartAngle,this.aEndAngle=e.aEndAngle,this.aClockwise=e.aClockwise,this.aRotation=e.aRotation,this}},xl=class extends bl{constructor(e,t,n,r,i,a){super(e,t,n,n,r,i,a),this.isArcCurve=!0,this.type=`ArcCurve`}};function Sl(){let e=0,t=0,n=0,r=0;function i(i,a,o,s){e=i,t=o,n=-3*i+3*a-2*o-s,r=2*i-2*a+o+s}return{initCatmullRom:function(e,t,n,r,a){i(t,n,a*(n-e),a*(r-t))},initNonuniformCatmullRom:function(e,t,n,r,a,o,s){let c=(t-e)/a-(n-e)/(a+o)+(n-t)/o,l=(n-t)/o-(r-t)/(o+s)+(r-n)/s;c*=o,l*=o,i(t,n,c,l)},calc:function(i){let a=i*i,o=a*i;return e+t*i+n*a+r*o}}}var Cl=new Q,wl=new Q,Tl=new Sl,El=new Sl,Dl=new Sl,Ol=class extends yl{constructor(e=[],t=!1,n=`centripetal`,r=.5){super(),this.isCatmullRomCurve3=!0,this.type=`CatmullRomCurve3`,this.points=e,this.closed=t,this.curveType=n,this.tension=r}getPoint(e,t=new Q){let n=t,r=this.points,i=r.length,a=(i-+!this.closed)*e,o=Math.floor(a),s=a-o;this.closed?o+=o>0?0:(Math.floor(Math.abs(o)/i)+1)*i:s===0&&o===i-1&&(o=i-2,s=1);let c,l;this.closed||o>0?c=r[(o-1)%i]:(wl.subVectors(r[0],r[1]).add(r[0]),c=wl);let u=r[o%i],d=r[(o+1)%i];if(this.closed||o+2<i?l=r[(o+2)%i]:(Cl.subVectors(r[i-1],r[i-2]).add(r[i-1]),l=Cl),this.curveType===`centripetal`||this.curveType===`chordal`){let e=this.curveType===`chordal`?.5:.25,t=c.distanceToSquared(u)**+e,n=u.distanceToSquared(d)**+e,r=d.distanceToSquared(l)**+e;n<1e-4&&(n=1),t<1e-4&&(t=n),r<1e-4&&(r=n),Tl.initNonuniformCatmullRom(c.x,u.x,d.x,l.x,t,n,r),El.initNonuniformCatmullRom(c.y,u.y,d.y,l.y,t,n,r),Dl.initNonuniformCatmullRom(c.z,u.z,d.z,l.z,t,n,r)}else this.curveType===`catmullrom`&&(Tl.initCatmullRom(c.x,u.x,d.x,l.x,this.tension),El.initCatmullRom(c.y,u.y,d.y,l.y,this.tension),Dl.initCatmullRom(c.z,u.z,d.z,l.z,this.tension));return n.set(Tl.calc(s),El.calc(s),Dl.calc(s)),n}copy(e){super.copy(e),this.points=[];for(let t=0,n=e.points.length;t<n;t++){let n=e.points[t];this.points.push(n.clone())}return this.closed=e.closed,this.curveType=e.curveType,this.tension=e.tension,this}toJSON(){let e=super.toJSON();e.points=[];for(let t=0,n=this.points.length;t<n;t++){let n=this.points[t];e.points.push(n.toArray())}return e.closed=this.closed,e.curveType=this.curveType,e.tension=this.tension,e}fromJSON(e){super.fromJSON(e),this.points=[];for(let t=0,n=e.points.length;t<n;t++){let n=e.points[t];this.points.push(new Q().fromArray(n))}return this.closed=e.closed,this.curveType=e.curveType,this.tension=e.tension,this}};function kl(e,t,n,r,i){let a=(r-t)*.5,o=(i-n)*.5,s=e*e,c=e*s;return(2*n-2*r+a+o)*c+(-3*n+3*r-2*a-o)*s+a*e+n}function Al(e,t){let n=1-e;return n*n*t}function jl(e,t){return 2*(1-e)*e*t}function Ml(e,t){return e*e*t}function Nl(e,t,n,r){return Al(e,t)+jl(e,n)+Ml(e,r)}function Pl(e,t){let n=1-e;return n*n*n*t}function Fl(e,t){let n=1-e;return 3*n*n*e*t}function Il(e,t){return 3*(1-e)*e*e*t}function Ll(e,t){return e*e*e*t}function Rl(e,t,n,r,i){return Pl(e,t)+Fl(e,n)+Il(e,r)+Ll(e,i)}var zl=class extends yl{constructor(e=new Z,t=new Z,n=new Z,r=new Z){super(),this.isCubicBezierCurve=!0,this.type=`CubicBezierCurve`,this.v0=e,this.v1=t,this.v2=n,this.v3=r}getPoint(e,t=new Z){let n=t,r=this.v0,i=this.v1,a=this.v2,o=this.v3;return n.set(Rl(e,r.x,i.x,a.x,o.x),Rl(e,r.y,i.y,a.y,o.y)),n}copy(e){return super.copy(e),this.v0.copy(e.v0),this.v1.copy(e.v1),this.v2.copy(e.v2),this.v3.copy(e.v3),this}toJSON(){let e=super.toJSON();return e.v0=this.v0.toArray(),e.v1=this.v1.toArray(),e.v2=this.v2.toArray(),e.v3=this.v3.toArray(),e}fromJSON(e){return super.fromJSON(e),this.v0.fromArray(e.v0),this.v1.fromArray(e.v1),this.v2.fromArray(e.v2),this.v3.fromArray(e.v3),this}},Bl=class extends yl{constructor(e=new Q,t=new Q,n=new Q,r=new Q){super(),this.isCubicBezierCurve3=!0,this.type=`CubicBezierCurve3`,this.v0=e,this.v1=t,this.v2=n,this.v3=r}getPoint(e,t=new Q){let n=t,r=this.v0,i=this.v1,a=this.v2,o=this.v3;return n.set(Rl(e,r.x,i.x,a.x,o.x),Rl(e,r.y,i.y,a.y,o.y),Rl(e,r.z,i.z,a.z,o.z)),n}copy(e){return super.copy(e),this.v0.copy(e.v0),this.v1.copy(e.v1),this.v2.copy(e.v2),this.v3.copy(e.v3),this}toJSON(){let e=super.toJSON();return e.v0=this.v0.toArray(),e.v1=this.v1.toArray(),e.v2=this.v2.toArray(),e.v3=this.v3.toArray(),e}fromJSON(e){return super.fromJSON(e),this.v0.fromArray(e.v0),this.v1.fromArray(e.v1),this.v2.fromArray(e.v2),this.v3.fromArray(e.v3),this}},Vl=class extends yl{constructor(e=new Z,t=new Z){super(),this.isLineCurve=!0,this.type=`LineCurve`,this.v1=e,this.v2=t}getPoint(e,t=new Z){let n=t;return e===1?n.copy(this.v2):(n.copy(this.v2).sub(this.v1),n.multiplyScalar(e).add(this.v1)),n}getPointAt(e,t){return this.getPoint(e,t)}getTangent(e,t=new Z){return t.subVectors(this.v2,this.v1).normalize()}getTangentAt(e,t){return this.getTangent(e,t)}copy(e){return super.copy(e),this.v1.copy(e.v1),this.v2.copy(e.v2),this}toJSON(){let e=super.toJSON();return e.v1=this.v1.toArray(),e.v2=this.v2.toArray(),e}fromJSON(e){return super.fromJSON(e),this.v1.fromArray(e.v1),this.v2.fromArray(e.v2),this}},Hl=class extends yl{constructor(e=new Q,t=new Q){super(),this.isLineCurve3=!0,this.type=`LineCurve3`,this.v1=e,this.v2=t}getPoint(e,t=new Q){let n=t;return e===1?n.copy(this.v2):(n.copy(this.v2).sub(this.v1),n.multiplyScalar(e).add(this.v1)),n}getPointAt(e,t){return this.getPoint(e,t)}getTangent(e,t=new Q){return t.subVectors(this.v2,this.v1).normalize()}getTangentAt(e,t){return this.getTangent(e,t)}copy(e){return super.copy(e),this.v1.copy(e.v1),this.v2.copy(e.v2),this}toJSON(){let e=super.toJSON();return e.v1=this.v1.toArray(),e.v2=this.v2.toArray(),e}fromJSON(e){return super.fromJSON(e),this.v1.fromArray(e.v1),this.v2.fromArray(e.v2),this}},Ul=class extends yl{constructor(e=new Z,t=new Z,n=new Z){super(),this.isQuadraticBezierCurve=!0,this.type=`QuadraticBezierCurve`,this.v0=e,this.v1=t,this.v2=n}getPoint(e,t=new Z){let n=t,r=this.v0,i=this.v1,a=this.v2;return n.set(Nl(e,r.x,i.x,a.x),Nl(e,r.y,i.y,a.y)),n}copy(e){return super.copy(e),this.v0.copy(e.v0),this.v1.copy(e.v1),this.v2.copy(e.v2),this}toJSON(){let e=super.toJSON();return e.v0=this.v0.toArray(),e.v1=this.v1.toArray(),e.v2=this.v2.toArray(),e}fromJSON(e){return super.fromJSON(e),this.v0.fromArray(e.v0),this.v1.fromArray(e.v1),this.v2.fromArray(e.v2),this}},Wl=class extends yl{constructor(e=new Q,t=new Q,n=new Q){super(),this.isQuadraticBezierCurve3=!0,this.type=`QuadraticBezierCurve3`,this.v0=e,this.v1=t,this.v2=n}getPoint(e,t=new Q){let n=t,r=this.v0,i=this.v1,a=this.v2;return n.set(Nl(e,r.x,i.x,a.x),Nl(e,r.y,i.y,a.y),Nl(e,r.z,i.z,a.z)),n}copy(e){return super.copy(e),this.v0.copy(e.v0),this.v1.copy(e.v1),this.v2.copy(e.v2),this}toJSON(){let e=super.toJSON();return e.v0=this.v0.toArray(),e.v1=this.v1.toArray(),e.v2=this.v2.toArray(),e}fromJSON(e){return super.fromJSON(e),this.v0.fromArray(e.v0),this.v1.fromArray(e.v1),this.v2.fromArray(e.v2),this}},Gl=class extends yl{constructor(e=[]){super(),this.isSplineCurve=!0,this.type=`SplineCurve`,this.points=e}getPoint(e,t=new Z){let n=t,r=this.points,i=(r.length-1)*e,a=Math.floor(i),o=i-a,s=r[a===0?a:a-1],c=r[a],l=r[a>r.length-2?r.length-1:a+1],u=r[a>r.length-3?r.length-1:a+2];return n.set(kl(o,s.x,c.x,l.x,u.x),kl(o,s.y,c.y,l.y,u.y)),n}copy(e){super.copy(e),this.points=[];for(let t=0,n=e.points.length;t<n;t++){let n=e.points[t];this.points.push(n.clone())}return this}toJSON(){let e=super.toJSON();e.points=[];for(let t=0,n=this.points.length;t<n;t++){let n=this.points[t];e.points.push(n.toArray())}return e}fromJSON(e){super.fromJSON(e),this.points=[];for(let t=0,n=e.points.length;t<n;t++){let n=e.points[t];this.points.push(new Z().fromArray(n))}return this}},Kl=Object.freeze({__proto__:null,ArcCurve:xl,CatmullRomCurve3:Ol,CubicBezierCurve:zl,CubicBezierCurve3:Bl,EllipseCurve:bl,LineCurve:Vl,LineCurve3:Hl,QuadraticBezierCurve:Ul,QuadraticBezierCurve3:Wl,SplineCurve:Gl}),ql=class extends yl{constructor(){super(),this.type=`CurvePath`,this.curves=[],this.autoClose=!1,this.cacheLengths=null}add(e){this.curves.push(e)}closePath(){let e=this.curves[0].getPoint(0),t=this.curves[this.curves.length-1].getPoint(1);if(!e.equals(t)){let n=e.isVector2===!0?`LineCurve`:`LineCurve3`;this.curves.push(new Kl[n](t,e))}return this}getPoint(e,t){let n=e*this.getLength(),r=this.getCurveLengths(),i=0;for(;i<r.length;){if(r[i]>=n){let e=r[i]-n,a=this.curves[i],o=a.getLength(),s=o===0?0:1-e/o;return a.getPointAt(s,t)}i++}return null}getLength(){let e=this.getCurveLengths();return e[e.length-1]}updateArcLengths(){this.needsUpdate=!0,this.cacheLengths=null,this.getCurveLengths()}getCurveLengths(){if(this.cacheLengths&&this.cacheLengths.length===this.curves.length)return this.cacheLengths;let e=[],t=0;for(let n=0,r=this.curves.length;n<r;n++)t+=this.curves[n].getLength(),e.push(t);return this.cacheLengths=e,e}getSpacedPoints(e=40){let t=[];for(let n=0;n<=e;n++)t.push(this.getPoint(n/e));return this.autoClose&&t.push(t[0]),t}getPoints(e=12){let t=[],n;for(let r=0,i=this.curves;r<i.length;r++){let a=i[r],o=a.isEllipseCurve?e*2:a.isLineCurve||a.isLineCurve3?1:a.isSplineCurve?e*a.points.length:e,s=a.getPoints(o);for(let e=0;e<s.length;e++){let r=s[e];n&&n.equals(r)||(t.push(r),n=r)}}return this.autoClose&&t.length>1&&!t[t.length-1].equals(t[0])&&t.push(t[0]),t}copy(e){super.copy(e),this.curves=[];for(let t=0,n=e.curves.length;t<n;t++){let n=e.curves[t];this.curves.push(n.clone())}return this.autoClose=e.autoClose,this.cacheLengths=null,this}toJSON(){let e=super.toJSON();e.autoClose=this.autoClose,e.curves=[];for(let t=0,n=this.curves.length;t<n;t++){let n=this.curves[t];e.curves.push(n.toJSON())}return e}fromJSON(e){super.fromJSON(e),this.autoClose=e.autoClose,this.curves=[];for(let t=0,n=e.curves.length;t<n;t++){let n=e.curves[t];this.curves.push(new Kl[n.type]().fromJSON(n))}return this.cacheLengths=null,this}},Jl=class extends ql{constructor(e){super(),this.type=`Path`,this.currentPoint=new Z,e&&this.setFromPoints(e)}setFromPoints(e){this.moveTo(e[0].x,e[0].y);for(let t=1,n=e.length;t<n;t++)this.lineTo(e[t].x,e[t].y);return this}moveTo(e,t){return this.currentPoint.set(e,t),this}lineTo(e,t){let n=new Vl(this.currentPoint.clone(),new Z(e,t));return this.curves.push(n),this.currentPoint.set(e,t),this}quadraticCurveTo(e,t,n,r){let i=new Ul(this.currentPoint.clone(),new Z(e,t),new Z(n,r));return this.curves.push(i),this.currentPoint.set(n,r),this}bezierCurveTo(e,t,n,r,i,a){let o=new zl(this.currentPoint.clone(),new Z(e,t),new Z(n,r),new Z(i,a));return this.curves.push(o),this.currentPoint.set(i,a),this}splineThru(e){let t=new Gl([this.currentPoint.clone()].concat(e));return this.curves.push(t),this.currentPoint.copy(e[e.length-1]),this}arc(e,t,n,r,i,a){let o=this.currentPoint.x,s=this.currentPoint.y;return this.absarc(e+o,t+s,n,r,i,a),this}absarc(e,t,n,r,i,a){return this.absellipse(e,t,n,n,r,i,a),this}ellipse(e,t,n,r,i,a,o,s){let c=this.currentPoint.x,l=this.currentPoint.y;return this.absellipse(e+c,t+l,n,r,i,a,o,s),this}absellipse(e,t,n,r,i,a,o,s){let c=new bl(e,t,n,r,i,a,o,s);if(this.curves.length>0){let e=c.getPoint(0);e.equals(this.currentPoint)||this.lineTo(e.x,e.y)}this.curves.push(c);let l=c.getPoint(1);return this.currentPoint.copy(l),this}copy(e){return super.copy(e),this.currentPoint.copy(e.currentPoint),this}toJSON(){let e=super.toJSON();return e.currentPoint=this.currentPoint.toArray(),e}fromJSON(e){return super.fromJSON(e),this.currentPoint.fromArray(e.currentPoint),this}},Yl=class extends Jl{constructor(e){super(e),this.uuid=Ma(),this.type=`Shape`,this.holes=[]}getPointsHoles(e){let t=[];for(let n=0,r=this.holes.length;n<r;n++)t[n]=this.holes[n].getPoints(e);return t}extractPoints(e){return{shape:this.getPoints(e),holes:this.getPointsHoles(e)}}copy(e){super.copy(e),this.holes=[];for(let t=0,n=e.holes.length;t<n;t++){let n=e.holes[t];this.holes.push(n.clone())}return this}toJSON(){let e=super.toJSON();e.uuid=this.uuid,e.holes=[];for(let t=0,n=this.holes.length;t<n;t++){let n=this.holes[t];e.holes.push(n.toJSON())}return e}fromJSON(e){super.fromJSON(e),this.uuid=e.uuid,this.holes=[];for(let t=0,n=e.holes.length;t<n;t++){let n=e.holes[t];this.holes.push(new Jl().fromJSON(n))}return this}};function Xl(e,t,n=2){let r=t&&t.length,i=r?t[0]*n:e.length,a=Zl(e,0,i,n,!0),o=[];if(!a||a.next===a.prev)return o;let s,c,l;if(r&&(a=iu(e,t,a,n)),e.length>80*n){s=e[0],c=e[1];let t=s,r=c;for(let a=n;a<i;a+=n){let n=e[a],i=e[a+1];n<s&&(s=n),i<c&&(c=i),n>t&&(t=n),i>r&&(r=i)}l=Math.max(t-s,r-c),l=l===0?0:32767/l}return $l(a,o,n,s,c,l,0),o}function Zl(e,t,n,r,i){let a;if(i===Ou(e,t,n,r)>0)for(let i=t;i<n;i+=r)a=Tu(i/r|0,e[i],e[i+1],a);else for(let i=n-r;i>=t;i-=r)a=Tu(i/r|0,e[i],e[i+1],a);return a&&_u(a,a.next)&&(Eu(a),a=a.next),a}function Ql(e,t){if(!e)return e;t||=e;let n=e,r;do if(r=!1,!n.steiner&&(_u(n,n.next)||gu(n.prev,n,n.next)===0)){if(Eu(n),n=t=n.prev,n===n.next)break;r=!0}else n=n.next;while(r||n!==t);return t}function $l(e,t,n,r,i,a,o){if(!e)return;!o&&a&&lu(e,r,i,a);let s=e;for(;e.prev!==e.next;){let c=e.prev,l=e.next;if(a?tu(e,r,i,a):eu(e))t.push(c.i,e.i,l.i),Eu(e),e=l.next,s=l.next;else if(e=l,e===s){o?o===1?(e=nu(Ql(e),t),$l(e,t,n,r,i,a,2)):o===2&&ru(e,t,n,r,i,a):$l(Ql(e),t,n,r,i,a,1);break}}}function eu(e){let t=e.prev,n=e,r=e.next;if(gu(t,n,r)>=0)return!1;let i=t.x,a=n.x,o=r.x,s=t.y,c=n.y,l=r.y,u=Math.min(i,a,o),d=Math.min(s,c,l),f=Math.max(i,a,o),p=Math.max(s,c,l),m=r.next;for(;m!==t;){if(m.x>=u&&m.x<=f&&m.y>=d&&m.y<=p&&mu(i,s,a,c,o,l,m.x,m.y)&&gu(m.prev,m,m.next)>=0)return!1;m=m.next}return!0}function tu(e,t,n,r){let i=e.prev,a=e,o=e.next;if(gu(i,a,o)>=0)return!1;let s=i.x,c=a.x,l=o.x,u=i.y,d=a.y,f=o.y,p=Math.min(s,c,l),m=Math.min(u,d,f),h=Math.max(s,c,l),g=Math.max(u,d,f),_=du(p,m,t,n,r),v=du(h,g,t,n,r),y=e.prevZ,b=e.nextZ;for(;y&&y.z>=_&&b&&b.z<=v;){if(y.x>=p&&y.x<=h&&y.y>=m&&y.y<=g&&y!==i&&y!==o&&mu(s,u,c,d,l,f,y.x,y.y)&&gu(y.prev,y,y.next)>=0||(y=y.prevZ,b.x>=p&&b.x<=h&&b.y>=m&&b.y<=g&&b!==i&&b!==o&&mu(s,u,c,d,l,f,b.x,b.y)&&gu(b.prev,b,b.next)>=0))return!1;b=b.nextZ}for(;y&&y.z>=_;){if(y.x>=p&&y.x<=h&&y.y>=m&&y.y<=g&&y!==i&&y!==o&&mu(s,u,c,d,l,f,y.x,y.y)&&gu(y.prev,y,y.next)>=0)return!1;y=y.prevZ}for(;b&&b.z<=v;){if(b.x>=p&&b.x<=h&&b.y>=m&&b.y<=g&&b!==i&&b!==o&&mu(s,u,c,d,l,f,b.x,b.y)&&gu(b.prev,b,b.next)>=0)return!1;b=b.nextZ}return!0}function nu(e,t){let n=e;do{let r=n.prev,i=n.next.next;!_u(r,i)&&vu(r,n,n.next,i)&&Su(r,i)&&Su(i,r)&&(t.push(r.i,n.i,i.i),Eu(n),Eu(n.next),n=e=i),n=n.next}while(n!==e);return Ql(n)}function ru(e,t,n,r,i,a){let o=e;do{let e=o.next.next;for(;e!==o.prev;){if(o.i!==e.i&&hu(o,e)){let s=wu(o,e);o=Ql(o,o.next),s=Ql(s,s.next),$l(o,t,n,r,i,a,0),$l(s,t,n,r,i,a,0);return}e=e.next}o=o.next}while(o!==e)}function iu(e,t,n,r){let i=[];for(let n=0,a=t.length;n<a;n++){let o=Zl(e,t[n]*r,n<a-1?t[n+1]*r:e.length,r,!1);o===o.next&&(o.steiner=!0),i.push(fu(o))}i.sort(au);for(let e=0;e<i.length;e++)n=ou(i[e],n);return n}function au(e,t){let n=e.x-t.x;return n===0&&(n=e.y-t.y,n===0&&(n=(e.next.y-e.y)/(e.next.x-e.x)-(t.next.y-t.y)/(t.next.x-t.x))),n}function ou(e,t){let n=su(e,t);if(!n)return t;let r=wu(n,e);return Ql(r,r.next),Ql(n,n.next)}function su(e,t){let n=t,r=e.x,i=e.y,a=-1/0,o;if(_u(e,n))return n;do{if(_u(e,n.next))return n.next;if(i<=n.y&&i>=n.next.y&&n.next.y!==n.y){let e=n.x+(i-n.y)*(n.next.x-n.x)/(n.next.y-n.y);if(e<=r&&e>a&&(a=e,o=n.x<n.next.x?n:n.next,e===r))return o}n=n.next}while(n!==t);if(!o)return null;let s=o,c=o.x,l=o.y,u=1/0;n=o;do{if(r>=n.x&&n.x>=c&&r!==n.x&&pu(i<l?r:a,i,c,l,i<l?a:r,i,n.x,n.y)){let t=Math.abs(i-n.y)/(r-n.x);Su(n,e)&&(t<u||t===u&&(n.x>o.x||n.x===o.x&&cu(o,n)))&&(o=n,u=t)}n=n.next}while(n!==s);return o}function cu(e,t){return gu(e.prev,e,t.prev)<0&&gu(t.next,e,e.next)<0}function lu(e,t,n,r){let i=e;do i.z===0&&(i.z=du(i.x,i.y,t,n,r)),i.prevZ=i.prev,i.nextZ=i.next,i=i.next;while(i!==e);i.prevZ.nextZ=null,i.prevZ=null,uu(i)}function uu(e){let t,n=1;do{let r=e,i;e=null;let a=null;for(t=0;r;){t++;let o=r,s=0;for(let e=0;e<n&&(s++,o=o.nextZ,o);e++);let c=n;for(;s>0||c>0&&o;)s!==0&&(c===0||!o||r.z<=o.z)?(i=r,r=r.nextZ,s--):(i=o,o=o.nextZ,c--),a?a.nextZ=i:e=i,i.prevZ=a,a=i;r=o}a.nextZ=null,n*=2}while(t>1);return e}function du(e,t,n,r,i){return e=(e-n)*i|0,t=(t-r)*i|0,e=(e|e<<8)&16711935,e=(e|e<<4)&252645135,e=(e|e<<2)&858993459,e=(e|e<<1)&1431655765,t=(t|t<<8)&16711935,t=(t|t<<4)&252645135,t=(t|t<<2)&858993459,t=(t|t<<1)&1431655765,e|t<<1}function fu(e){let t=e,n=e;do(t.x<n.x||t.x===n.x&&t.y<n.y)&&(n=t),t=t.next;while(t!==e);return n}function pu(e,t,n,r,i,a,o,s){return(i-o)*(t-s)>=(e-o)*(a-s)&&(e-o)*(r-s)>=(n-o)*(t-s)&&(n-o)*(a-s)>=(i-o)*(r-s)}function mu(e,t,n,r,i,a,o,s){return(e!==o||t!==s)&&pu(e,t,n,r,i,a,o,s)}function hu(e,t){return e.next.i!==t.i&&e.prev.i!==t.i&&!xu(e,t)&&(Su(e,t)&&Su(t,e)&&Cu(e,t)&&(gu(e.prev,e,t.prev)||gu(e,t.prev,t))||_u(e,t)&&gu(e.prev,e,e.next)>0&&gu(t.prev,t,t.next)>0)}function gu(e,t,n){return(t.y-e.y)*(n.x-t.x)-(t.x-e.x)*(n.y-t.y)}function _u(e,t){return e.x===t.x&&e.y===t.y}function vu(e,t,n,r){let i=bu(gu(e,t,n)),a=bu(gu(e,t,r)),o=bu(gu(n,r,e)),s=bu(gu(n,r,t));return!!(i!==a&&o!==s||i===0&&yu(e,n,t)||a===0&&yu(e,r,t)||o===0&&yu(n,e,r)||s===0&&yu(n,t,r))}function yu(e,t,n){return t.x<=Math.max(e.x,n.x)&&t.x>=Math.min(e.x,n.x)&&t.y<=Math.max(e.y,n.y)&&t.y>=Math.min(e.y,n.y)}function bu(e){return e>0?1:e<0?-1:0}function xu(e,t){let n=e;do{if(n.i!==e.i&&n.next.i!==e.i&&n.i!==t.i&&n.next.i!==t.i&&vu(n,n.next,e,t))return!0;n=n.next}while(n!==e);return!1}function Su(e,t){return gu(e.prev,e,e.next)<0?gu(e,t,e.next)>=0&&gu(e,e.prev,t)>=0:gu(e,t,e.prev)<0||gu(e,e.next,t)<0}function Cu(e,t){let n=e,r=!1,i=(e.x+t.x)/2,a=(e.y+t.y)/2;do n.y>a!=n.next.y>a&&n.next.y!==n.y&&i<(n.next.x-n.x)*(a-n.y)/(n.next.y-n.y)+n.x&&(r=!r),n=n.next;while(n!==e);return r}function wu(e,t){let n=Du(e.i,e.x,e.y),r=Du(t.i,t.x,t.y),i=e.next,a=t.prev;return e.next=t,t.prev=e,n.next=i,i.prev=n,r.next=n,n.prev=r,a.next=r,r.prev=a,r}function Tu(e,t,n,r){let i=Du(e,t,n);return r?(i.next=r.next,i.prev=r,r.next.prev=i,r.next=i):(i.prev=i,i.next=i),i}function Eu(e){e.next.prev=e.prev,e.prev.next=e.next,e.prevZ&&(e.prevZ.nextZ=e.nextZ),e.nextZ&&(e.nextZ.prevZ=e.prevZ)}function Du(e,t,n){return{i:e,x:t,y:n,prev:null,next:null,z:0,prevZ:null,nextZ:null,steiner:!1}}function Ou(e,t,n,r){let i=0;for(let a=t,o=n-r;a<n;a+=r)i+=(e[o]-e[a])*(e[a+1]+e[o+1]),o=a;return i}var ku=class{static triangulate(e,t,n=2){return Xl(e,t,n)}},Au=class e{static area(e){let t=e.length,n=0;for(let r=t-1,i=0;i<t;r=i++)n+=e[r].x*e[i].y-e[i].x*e[r].y;return n*.5}static isClockWise(t){return e.area(t)<0}static triangulateShape(e,t){let n=[],r=[],i=[];ju(e),Mu(n,e);let a=e.length;t.forEach(ju);for(let e=0;e<t.length;e++)r.push(a),a+=t[e].length,Mu(n,t[e]);let o=ku.triangulate(n,r);for(let e=0;e<o.length;e+=3)i.push(o.slice(e,e+3));return i}};function ju(e){let t=e.length;t>2&&e[t-1].equals(e[0])&&e.pop()}function Mu(e,t){for(let n=0;n<t.length;n++)e.push(t[n].x),e.push(t[n].y)}var Nu=class e extends lc{constructor(e=new Yl([new Z(.5,.5),new Z(-.5,.5),new Z(-.5,-.5),new Z(.5,-.5)]),t={}){super(),this.type=`ExtrudeGeometry`,this.parameters={shapes:e,options:t},e=Array.isArray(e)?e:[e];let n=this,r=[],i=[];for(let t=0,n=e.length;t<n;t++){let n=e[t];a(n)}this.setAttribute(`position`,new Zs(r,3)),this.setAttribute(`uv`,new Zs(i,2)),this.computeVertexNormals();function a(e){let a=[],o=t.curveSegments===void 0?12:t.curveSegments,s=t.steps===void 0?1:t.steps,c=t.depth===void 0?1:t.depth,l=t.bevelEnabled===void 0||t.bevelEnabled,u=t.bevelThickness===void 0?.2:t.bevelThickness,d=t.bevelSize===void 0?u-.1:t.bevelSize,f=t.bevelOffset===void 0?0:t.bevelOffset,p=t.bevelSegments===void 0?3:t.bevelSegments,m=t.extrudePath,h=t.UVGenerator===void 0?Pu:t.UVGenerator,g,_=!1,v,y,b,x;if(m){g=m.getSpacedPoints(s),_=!0,l=!1;let e=m.isCatmullRomCurve3?m.closed:!1;v=m.computeFrenetFrames(s,e),y=new Q,b=new Q,x=new Q}l||(p=0,u=0,d=0,f=0);let S=e.extractPoints(o),C=S.shape,w=S.holes;if(!Au.isClockWise(C)){C=C.reverse();for(let e=0,t=w.length;e<t;e++){let t=w[e];Au.isClockWise(t)&&(w[e]=t.reverse())}}function T(e){let t=e[0];for(let n=1;n<=e.length;n++){let r=n%e.length,i=e[r],a=i.x-t.x,o=i.y-t.y,s=a*a+o*o,c=Math.max(Math.abs(i.x),Math.abs(i.y),Math.abs(t.x),Math.abs(t.y));s<=10000000000000001e-36*c*c?(e.splice(r,1),n--):t=i}}T(C),w.forEach(T);let E=w.length,D=C;for(let e=0;e<E;e++){let t=w[e];C=C.concat(t)}function O(e,t,n){return t||Ca(`ExtrudeGeometry: vec does not exist`),e.clone().addScaledVector(t,n)}let k=C.length;function A(e,t,n){let r,i,a,o=e.x-t.x,s=e.y-t.y,c=n.x-e.x,l=n.y-e.y,u=o*o+s*s,d=o*l-s*c;if(Math.abs(d)>2**-52){let d=Math.sqrt(u),f=Math.sqrt(c*c+l*l),p=t.x-s/d,m=t.y+o/d,h=n.x-l/f,g=n.y+c/f,_=((h-p)*l-(g-m)*c)/(o*l-s*c);r=p+o*_-e.x,i=m+s*_-e.y;let v=r*r+i*i;if(v<=2)return new Z(r,i);a=Math.sqrt(v/2)}else{let e=!1;o>2**-52?c>2**-52&&(e=!0):o<-(2**-52)?c<-(2**-52)&&(e=!0):Math.sign(s)===Math.sign(l)&&(e=!0),e?(r=-s,i=o,a=Math.sqrt(u)):(r=o,i=s,a=Math.sqrt(u/2))}return new Z(r/a,i/a)}let j=[];for(let e=0,t=D.length,n=t-1,r=e+1;e<t;e++,n++,r++)n===t&&(n=0),r===t&&(r=0),j[e]=A(D[e],D[n],D[r]);let M=[],N,ee=j.concat();for(let e=0,t=E;e<t;e++){let t=w[e];N=[];for(let e=0,n=t.length,r=n-1,i=e+1;e<n;e++,r++,i++)r===n&&(r=0),i===n&&(i=0),N[e]=A(t[e],t[r],t[i]);M.push(N),ee=ee.concat(N)}let te;if(p===0)te=Au.triangulateShape(D,w);else{let e=[],t=[];for(let n=0;n<p;n++){let r=n/p,i=u*Math.cos(r*Math.PI/2),a=d*Math.sin(r*Math.PI/2)+f;for(let t=0,n=D.length;t<n;t++){let n=O(D[t],j[t],a);I(n.x,n.y,-i),r===0&&e.push(n)}for(let e=0,n=E;e<n;e++){let n=w[e];N=M[e];let o=[];for(let e=0,t=n.length;e<t;e++){let t=O(n[e],N[e],a);I(t.x,t.y,-i),r===0&&o.push(t)}r===0&&t.push(o)}}te=Au.triangulateShape(e,t)}let ne=te.length,re=d+f;for(let e=0;e<k;e++){let t=l?O(C[e],ee[e],re):C[e];_?(b.copy(v.normals[0]).multiplyScalar(t.x),y.copy(v.binormals[0]).multiplyScalar(t.y),x.copy(g[0]).add(b).add(y),I(x.x,x.y,x.z)):I(t.x,t.y,0)}for(let e=1;e<=s;e++)for(let t=0;t<k;t++){let n=l?O(C[t],ee[t],re):C[t];_?(b.copy(v.normals[e]).multiplyScalar(n.x),y.copy(v.binormals[e]).multiplyScalar(n.y),x.copy(g[e]).add(b).add(y),I(x.x,x.y,x.z)):I(n.x,n.y,c/s*e)}for(let e=p-1;e>=0;e--){let t=e/p,n=u*Math.cos(t*Math.PI/2),r=d*Math.sin(t*Math.PI/2)+f;for(let e=0,t=D.length;e<t;e++){let t=O(D[e],j[e],r);I(t.x,t.y,c+n)}for(let e=0,t=w.length;e<t;e++){let t=w[e];N=M[e];for(let e=0,i=t.length;e<i;e++){let i=O(t[e],N[e],r);_?I(i.x,i.y+g[s-1].y,g[s-1].x+n):I(i.x,i.y,c+n)}}}P(),F();function P(){let e=r.length/3;if(l){let e=0,t=k*e;for(let e=0;e<ne;e++){let n=te[e];ae(n[2]+t,n[1]+t,n[0]+t)}e=s+p*2,t=k*e;for(let e=0;e<ne;e++){let n=te[e];ae(n[0]+t,n[1]+t,n[2]+t)}}else{for(let e=0;e<ne;e++){let t=te[e];ae(t[2],t[1],t[0])}for(let e=0;e<ne;e++){let t=te[e];ae(t[0]+k*s,t[1]+k*s,t[2]+k*s)}}n.addGroup(e,r.length/3-e,0)}function F(){let e=r.length/3,t=0;ie(D,t),t+=D.length;for(let e=0,n=w.length;e<n;e++){let n=w[e];ie(n,t),t+=n.length}n.addGroup(e,r.length/3-e,1)}function ie(e,t){let n=e.length;for(;--n>=0;){let r=n,i=n-1;i<0&&(i=e.length-1);for(let e=0,n=s+p*2;e<n;e++){let n=k*e,a=k*(e+1);L(t+r+n,t+i+n,t+i+a,t+r+a)}}}function I(e,t,n){a.push(e),a.push(t),a.push(n)}function ae(e,t,i){oe(e),oe(t),oe(i);let a=r.length/3,o=h.generateTopUV(n,r,a-3,a-2,a-1);R(o[0]),R(o[1]),R(o[2])}function L(e,t,i,a){oe(e),oe(t),oe(a),oe(t),oe(i),oe(a);let o=r.length/3,s=h.generateSideWallUV(n,r,o-6,o-3,o-2,o-1);R(s[0]),R(s[1]),R(s[3]),R(s[1]),R(s[2]),R(s[3])}function oe(e){r.push(a[e*3+0]),r.push(a[e*3+1]),r.push(a[e*3+2])}function R(e){i.push(e.x),i.push(e.y)}}}copy(e){return super.copy(e),this.parameters=Object.assign({},e.parameters),this}toJSON(){let e=super.toJSON(),t=this.parameters.shapes,n=this.parameters.options;return Fu(t,n,e)}static fromJSON(t,n){let r=[];for(let e=0,i=t.shapes.length;e<i;e++){let i=n[t.shapes[e]];r.push(i)}let i=t.options.extrudePath;return i!==void 0&&(t.options.extrudePath=new Kl[i.type]().fromJSON(i)),new e(r,t.options)}},Pu={generateTopUV:function(e,t,n,r,i){let a=t[n*3],o=t[n*3+1],s=t[r*3],c=t[r*3+1],l=t[i*3],u=t[i*3+1];return[new Z(a,o),new Z(s,c),new Z(l,u)]},generateSideWallUV:function(e,t,n,r,i,a){let o=t[n*3],s=t[n*3+1],c=t[n*3+2],l=t[r*3],u=t[r*3+1],d=t[r*3+2],f=t[i*3],p=t[i*3+1],m=t[i*3+2],h=t[a*3],g=t[a*3+1],_=t[a*3+2];return Math.abs(s-u)<Math.abs(o-l)?[new Z(o,1-c),new Z(l,1-d),new Z(f,1-m),new Z(h,1-_)]:[new Z(s,1-c),new Z(u,1-d),new Z(p,1-m),new Z(g,1-_)]}};function Fu(e,t,n){if(n.shapes=[],Array.isArray(e))for(let t=0,r=e.length;t<r;t++){let r=e[t];n.shapes.push(r.uuid)}else n.shapes.push(e.uuid);return n.options=Object.assign({},t),t.extrudePath!==void 0&&(n.options.extrudePath=t.extrudePath.toJSON()),n}var Iu=class e extends lc{constructor(e=1,t=1,n=1,r=1){super(),this.type=`PlaneGeometry`,this.parameters={width:e,height:t,widthSegments:n,heightSegments:r};let i=e/2,a=t/2,o=Math.floor(n),s=Math.floor(r),c=o+1,l=s+1,u=e/o,d=t/s,f=[],p=[],m=[],h=[];for(let e=0;e<l;e++){let t=e*d-a;for(let n=0;n<c;n++){let r=n*u-i;p.push(r,-t,0),m.push(0,0,1),h.push(n/o),h.push(1-e/s)}}for(let e=0;e<s;e++)for(let t=0;t<o;t++){let n=t+c*e,r=t+c*(e+1),i=t+1+c*(e+1),a=t+1+c*e;f.push(n,r,a),f.push(r,i,a)}this.setIndex(f),this.setAttribute(`position`,new Zs(p,3)),this.setAttribute(`normal`,new Zs(m,3)),this.setAttribute(`uv`,new Zs(h,2))}copy(e){return super.copy(e),this.parameters=Object.assign({},e.parameters),this}static fromJSON(t){return new e(t.width,t.height,t.widthSegments,t.heightSegments)}};function Lu(e){let t={};for(let n in e){t[n]={};for(let r in e[n]){let i=e[n][r];if(zu(i))i.isRenderTargetTexture?(X(`UniformsUtils: Textures of render targets cannot be cloned via cloneUniforms() or mergeUniforms().`),t[n][r]=null):t[n][r]=i.clone();else if(Array.isArray(i)){if(zu(i[0])){let e=[];for(let t=0,n=i.length;t<n;t++)e[t]=i[t].clone();t[n][r]=e}else t[n][r]=i.slice()}else t[n][r]=i}}return t}function Ru(e){let t={};for(let n=0;n<e.length;n++){let r=Lu(e[n]);for(let e in r)t[e]=r[e]}return t}function zu(e){return e&&(e.isColor||e.isMatrix3||e.isMatrix4||e.isVector2||e.isVector3||e.isVector4||e.isTexture||e.isQuaternion)}function Bu(e){let t=[];for(let n=0;n<e.length;n++)t.push(e[n].clone());return t}function Vu(e){let t=e.getRenderTarget();return t===null?e.outputColorSpace:t.isXRRenderTarget===!0?t.texture.colorSpace:uo.workingColorSpace}var Hu={clone:Lu,merge:Ru},Uu=`void main() {
	gl_Position = projectionMatrix * modelViewMatrix * vec4( position, 1.0 );
}`,Wu=`void main() {
	gl_FragColor = vec4( 1.0, 0.0, 0.0, 1.0 );
}`,Gu=class extends hc{constructor(e){super(),this.isShaderMaterial=!0,this.type=`ShaderMaterial`,this.defines={},this.uniforms={},this.uniformsGroups=[],this.vertexShader=Uu,this.fragmentShader=Wu,this.linewidth=1,this.wireframe=!1,this.wireframeLinewidth=1,this.fog=!1,this.lights=!1,this.clipping=!1,this.forceSinglePass=!0,this.extensions={clipCullDistance:!1,multiDraw:!1},this.defaultAttributeValues={color:[1,1,1],uv:[0,0],uv1:[0,0]},this.index0AttributeName=void 0,this.uniformsNeedUpdate=!1,this.glslVersion=null,e!==void 0&&this.setValues(e)}copy(e){return super.copy(e),this.fragmentShader=e.fragmentShader,this.vertexShader=e.vertexShader,this.uniforms=Lu(e.uniforms),this.uniformsGroups=Bu(e.uniformsGroups),this.defines=Object.assign({},e.defines),this.wireframe=e.wireframe,this.wireframeLinewidth=e.wireframeLinewidth,this.fog=e.fog,this.lights=e.lights,this.clipping=e.clipping,this.extensions=Object.assign({},e.extensions),this.glslVersion=e.glslVersion,this.defaultAttributeValues=Object.assign({},e.defaultAttributeValues),this.index0AttributeName=e.index0AttributeName,this.uniformsNeedUpdate=e.uniformsNeedUpdate,this}toJSON(e){let t=super.toJSON(e);t.glslVersion=this.glslVersion,t.uniforms={};for(let n in this.uniforms){let r=this.uniforms[n].value;r&&r.isTexture?t.uniforms[n]={type:`t`,value:r.toJSON(e).uuid}:r&&r.isColor?t.uniforms[n]={type:`c`,value:r.getHex()}:r&&r.isVector2?t.uniforms[n]={type:`v2`,value:r.toArray()}:r&&r.isVector3?t.uniforms[n]={type:`v3`,value:r.toArray()}:r&&r.isVector4?t.uniforms[n]={type:`v4`,value:r.toArray()}:r&&r.isMatrix3?t.uniforms[n]={type:`m3`,value:r.toArray()}:r&&r.isMatrix4?t.uniforms[n]={type:`m4`,value:r.toArray()}:t.uniforms[n]={value:r}}Object.keys(this.defines).length>0&&(t.defines=this.defines),t.vertexShader=this.vertexShader,t.fragmentShader=this.fragmentShader,t.lights=this.lights,t.clipping=this.clipping;let n={};for(let e in this.extensions)this.extensions[e]===!0&&(n[e]=!0);return Object.keys(n).length>0&&(t.extensions=n),t}fromJSON(e,t){if(super.fromJSON(e,t),e.uniforms!==void 0)for(let n in e.uniforms){let r=e.uniforms[n];switch(this.uniforms[n]={},r.type){case`t`:this.uniforms[n].value=t[r.value]||null;break;case`c`:this.uniforms[n].value=new cs().setHex(r.value);break;case`v2`:this.uniforms[n].value=new Z().fromArray(r.value);break;case`v3`:this.uniforms[n].value=new Q().fromArray(r.value);break;case`v4`:this.uniforms[n].value=new So().fromArray(r.value);break;case`m3`:this.uniforms[n].value=new ao().fromArray(r.value);break;case`m4`:this.uniforms[n].value=new Do().fromArray(r.value);break;default:this.uniforms[n].value=r.value}}if(e.defines!==void 0&&(this.defines=e.defines),e.vertexShader!==void 0&&(this.vertexShader=e.vertexShader),e.fragmentShader!==void 0&&(this.fragmentShader=e.fragmentShader),e.glslVersion!==void 0&&(this.glslVersion=e.glslVersion),e.extensions!==void 0)for(let t in e.extensions)this.extensions[t]=e.extensions[t];return e.lights!==void 0&&(this.lights=e.lights),e.clipping!==void 0&&(this.clipping=e.clipping),this}},Ku=class extends Gu{constructor(e){super(e),this.isRawShaderMaterial=!0,this.type=`RawShaderMaterial`}},qu=class extends hc{constructor(e){super(),this.isMeshDepthMaterial=!0,this.type=`MeshDepthMaterial`,this.depthPacking=ca,this.map=null,this.alphaMap=null,this.displacementMap=null,this.displacementScale=1,this.displacementBias=0,this.wireframe=!1,this.wireframeLinewidth=1,this.setValues(e)}copy(e){return super.copy(e),this.depthPacking=e.depthPacking,this.map=e.map,this.alphaMap=e.alphaMap,this.displacementMap=e.displacementMap,this.displacementScale=e.displacementScale,this.displacementBias=e.displacementBias,this.wireframe=e.wireframe,this.wireframeLinewidth=e.wireframeLinewidth,this}},Ju=class extends hc{constructor(e){super(),this.isMeshDistanceMaterial=!0,this.type=`MeshDistanceMaterial`,this.map=null,this.alphaMap=null,this.displacementMap=null,this.displacementScale=1,this.displacementBias=0,this.setValues(e)}copy(e){return super.copy(e),this.map=e.map,this.alphaMap=e.alphaMap,this.displacementMap=e.displacementMap,this.displacementScale=e.displacementScale,this.displacementBias=e.displacementBias,this}};function Yu(e,t){return!e||e.constructor===t?e:typeof t.BYTES_PER_ELEMENT==`number`?new t(e):Array.prototype.slice.call(e)}function Xu(e){return e!==void 0&&e.inTangents!==void 0&&e.outTangents!==void 0}var Zu=class{constructor(e,t,n,r){this.parameterPositions=e,this._cachedIndex=0,this.resultBuffer=r===void 0?new t.constructor(n):r,this.sampleValues=t,this.valueSize=n,this.settings=null,this.DefaultSettings_={}}evaluate(e){let t=this.parameterPositions,n=this._cachedIndex,r=t[n],i=t[n-1];validate_interval:{seek:{let a;linear_scan:{forward_scan:if(!(e<r)){for(let a=n+2;;){if(r===void 0){if(e<i)break forward_scan;return n=t.length,this._cachedIndex=n,this.copySampleValue_(n-1)}if(n===a)break;if(i=r,r=t[++n],e<r)break seek}a=t.length;break linear_scan}if(!(e>=i)){let o=t[1];e<o&&(n=2,i=o);for(let a=n-2;;){if(i===void 0)return this._cachedIndex=0,this.copySampleValue_(0);if(n===a)break;if(r=i,i=t[--n-1],e>=i)break seek}a=n,n=0;break linear_scan}break validate_interval}for(;n<a;){let r=n+a>>>1;e<t[r]?a=r:n=r+1}if(r=t[n],i=t[n-1],i===void 0)return this._cachedIndex=0,this.copySampleValue_(0);if(r===void 0)return n=t.length,this._cachedIndex=n,this.copySampleValue_(n-1)}this._cachedIndex=n,this.intervalChanged_(n,i,r)}return this.interpolate_(n,i,e,r)}getSettings_(){return this.settings||this.DefaultSettings_}copySampleValue_(e){let t=this.resultBuffer,n=this.sampleValues,r=this.valueSize,i=e*r;for(let e=0;e!==r;++e)t[e]=n[i+e];return t}interpolate_(){throw Error(`THREE.Interpolant: Call to abstract method.`)}intervalChanged_(){}},Qu=class extends Zu{constructor(e,t,n,r){super(e,t,n,r),this._weightPrev=-0,this._offsetPrev=-0,this._weightNext=-0,this._offsetNext=-0,this.DefaultSettings_={endingStart:aa,endingEnd:aa}}intervalChanged_(e,t,n){let r=this.parameterPositions,i=e-2,a=e+1,o=r[i],s=r[a];if(o===void 0)switch(this.getSettings_().endingStart){case oa:i=e,o=2*t-n;break;case sa:i=r.length-2,o=t+r[i]-r[i+1];break;default:i=e,o=n}if(s===void 0)switch(this.getSettings_().endingEnd){case oa:a=e,s=2*n-t;break;case sa:a=1,s=n+r[1]-r[0];break;default:a=e-1,s=t}let c=(n-t)*.5,l=this.valueSize;this._weightPrev=c/(t-o),this._weightNext=c/(s-n),this._offsetPrev=i*l,this._offsetNext=a*l}interpolate_(e,t,n,r){let i=this.resultBuffer,a=this.sampleValues,o=this.valueSize,s=e*o,c=s-o,l=this._offsetPrev,u=this._offsetNext,d=this._weightPrev,f=this._weightNext,p=(n-t)/(r-t),m=p*p,h=m*p,g=-d*h+2*d*m-d*p,_=(1+d)*h+(-1.5-2*d)*m+(-.5+d)*p+1,v=(-1-f)*h+(1.5+f)*m+.5*p,y=f*h-f*m;for(let e=0;e!==o;++e)i[e]=g*a[l+e]+_*a[c+e]+v*a[s+e]+y*a[u+e];return i}},$u=class extends Zu{constructor(e,t,n,r){super(e,t,n,r)}interpolate_(e,t,n,r){let i=this.resultBuffer,a=this.sampleValues,o=this.valueSize,s=e*o,c=s-o,l=(n-t)/(r-t),u=1-l;for(let e=0;e!==o;++e)i[e]=a[c+e]*u+a[s+e]*l;return i}},ed=class extends Zu{constructor(e,t,n,r){super(e,t,n,r)}interpolate_(e){return this.copySampleValue_(e-1)}},td=class extends Zu{interpolate_(e,t,n,r){let i=this.resultBuffer,a=this.sampleValues,o=this.valueSize,s=e*o,c=s-o,l=this.inTangents,u=this.outTangents;if(!l||!u){let e=(n-t)/(r-t),l=1-e;for(let t=0;t!==o;++t)i[t]=a[c+t]*l+a[s+t]*e;return i}let d=o*2,f=e-1;for(let p=0;p!==o;++p){let o=a[c+p],m=a[s+p],h=f*d+p*2,g=u[h],_=u[h+1],v=e*d+p*2,y=l[v],b=l[v+1],x=id(n,t,g,y,r);i[p]=nd(x,o,_,b,m)}return i}};function nd(e,t,n,r,i){let a=1-e;return a*a*a*t+3*a*a*e*n+3*a*e*e*r+e*e*e*i}function rd(e,t,n,r,i){let a=1-e;return 3*a*a*(n-t)+6*a*e*(r-n)+3*e*e*(i-r)}function id(e,t,n,r,i){let a=(e-t)/(i-t);for(let o=0;o<8;o++){let o=nd(a,t,n,r,i)-e;if(Math.abs(o)<1e-10)break;let s=rd(a,t,n,r,i);if(Math.abs(s)<1e-10)break;a=Math.max(0,Math.min(1,a-o/s))}return a}var ad=class{constructor(e,t,n,r){if(e===void 0)throw Error(`THREE.KeyframeTrack: track name is undefined`);if(t===void 0||t.length===0)throw Error(`THREE.KeyframeTrack: no keyframes in track named `+e);this.name=e,this.times=Yu(t,this.TimeBufferType),this.values=Yu(n,this.ValueBufferType),this.setInterpolation(r||this.DefaultInterpolation)}static toJSON(e){let t=e.constructor,n;if(t.toJSON!==this.toJSON)n=t.toJSON(e);else{n={name:e.name,times:Yu(e.times,Array),values:Yu(e.values,Array)};let t=e.getInterpolation();t!==e.DefaultInterpolation&&(n.interpolation=t),Xu(e.settings)&&(n.settings={inTangents:Yu(e.settings.inTangents,Array),outTangents:Yu(e.settings.outTangents,Array)})}return n.type=e.ValueTypeName,n}InterpolantFactoryMethodDiscrete(e){return new ed(this.times,this.values,this.getValueSize(),e)}InterpolantFactoryMethodLinear(e){return new $u(this.times,this.values,this.getValueSize(),e)}InterpolantFactoryMethodSmooth(e){return new Qu(this.times,this.values,this.getValueSize(),e)}InterpolantFactoryMethodBezier(e){let t=new td(this.times,this.values,this.getValueSize(),e);return this.settings&&(t.inTangents=this.settings.inTangents,t.outTangents=this.settings.outTangents),t}setInterpolation(e){let t;switch(e){case ta:t=this.InterpolantFactoryMethodDiscrete;break;case na:t=this.InterpolantFactoryMethodLinear;break;case ra:t=this.InterpolantFactoryMethodSmooth;break;case ia:t=this.InterpolantFactoryMethodBezier}if(t===void 0){let t=`unsupported interpolation for `+this.ValueTypeName+` keyframe track named `+this.name;if(this.createInterpolant===void 0){if(e!==this.DefaultInterpolation)this.setInterpolation(this.DefaultInterpolation);else throw Error(t)}return X(`KeyframeTrack:`,t),this}return this.createInterpolant=t,this}getInterpolation(){switch(this.createInterpolant){case this.InterpolantFactoryMethodDiscrete:return ta;case this.InterpolantFactoryMethodLinear:return na;case this.InterpolantFactoryMethodSmooth:return ra;case this.InterpolantFactoryMethodBezier:return ia}}getValueSize(){return this.values.length/this.times.length}shift(e){if(e!==0){let t=this.times;for(let n=0,r=t.length;n!==r;++n)t[n]+=e;Xu(this.settings)&&(od(this.settings.inTangents,e),od(this.settings.outTangents,e))}return this}scale(e){if(e!==1){let t=this.times;for(let n=0,r=t.length;n!==r;++n)t[n]*=e;Xu(this.settings)&&(sd(this.settings.inTangents,e),sd(this.settings.outTangents,e))}return this}trim(e,t){let n=this.times,r=n.length,i=0,a=r-1;for(;i!==r&&n[i]<e;)++i;for(;a!==-1&&n[a]>t;)--a;if(++a,i!==0||a!==r){i>=a&&(a=Math.max(a,1),i=a-1);let e=this.getValueSize();this.times=n.slice(i,a),this.values=this.values.slice(i*e,a*e)}return this}validate(){let e=!0,t=this.getValueSize();t-Math.floor(t)!==0&&(Ca(`KeyframeTrack: Invalid value size in track.`,this),e=!1);let n=this.times,r=this.values,i=n.length;i===0&&(Ca(`KeyframeTrack: Track is empty.`,this),e=!1);let a=null;for(let t=0;t!==i;t++){let r=n[t];if(typeof r==`number`&&isNaN(r)){Ca(`KeyframeTrack: Time is not a valid number.`,this,t,r),e=!1;break}if(a!==null&&a>r){Ca(`KeyframeTrack: Out of order keys.`,this,t,r,a),e=!1;break}a=r}if(r!==void 0&&_a(r))for(let t=0,n=r.length;t!==n;++t){let n=r[t];if(isNaN(n)){Ca(`KeyframeTrack: Value is not a valid number.`,this,t,n),e=!1;break}}return e}optimize(){let e=this.times.slice(),t=this.values.slice(),n=this.getValueSize(),r=this.getInterpolation()===ra,i=e.length-1,a=1;for(let o=1;o<i;++o){let i=!1,s=e[o];if(s!==e[o+1]&&(o!==1||s!==e[0])){if(r)i=!0;else{let e=o*n,r=e-n,a=e+n;for(let o=0;o!==n;++o){let n=t[e+o];if(n!==t[r+o]||n!==t[a+o]){i=!0;break}}}}if(i){if(o!==a){e[a]=e[o];let r=o*n,i=a*n;for(let e=0;e!==n;++e)t[i+e]=t[r+e]}++a}}if(i>0){e[a]=e[i];for(let e=i*n,r=a*n,o=0;o!==n;++o)t[r+o]=t[e+o];++a}return a===e.length?(this.times=e,this.values=t):(this.times=e.slice(0,a),this.values=t.slice(0,a*n)),this}clone(){let e=this.times.slice(),t=this.values.slice(),n=this.constructor,r=new n(this.name,e,t);return r.createInterpolant=this.createInterpolant,Xu(this.settings)&&(r.settings={inTangents:this.settings.inTangents.slice(),outTangents:this.settings.outTangents.slice()}),r}};function od(e,t){for(let n=0,r=e.length;n!==r;n+=2)e[n]+=t}function sd(e,t){for(let n=0,r=e.length;n!==r;n+=2)e[n]*=t}ad.prototype.ValueTypeName=``,ad.prototype.TimeBufferType=Float32Array,ad.prototype.ValueBufferType=Float32Array,ad.prototype.DefaultInterpolation=na;var cd=class extends ad{constructor(e,t,n){super(e,t,n)}};cd.prototype.ValueTypeName=`bool`,cd.prototype.ValueBufferType=Array,cd.prototype.DefaultInterpolation=ta,cd.prototype.InterpolantFactoryMethodLinear=void 0,cd.prototype.InterpolantFactoryMethodSmooth=void 0;var ld=class extends ad{constructor(e,t,n,r){super(e,t,n,r)}};ld.prototype.ValueTypeName=`color`;var ud=class extends ad{constructor(e,t,n,r){super(e,t,n,r)}};ud.prototype.ValueTypeName=`number`;var dd=class extends Zu{constructor(e,t,n,r){super(e,t,n,r)}interpolate_(e,t,n,r){let i=this.resultBuffer,a=this.sampleValues,o=this.valueSize,s=(n-t)/(r-t),c=e*o;for(let e=c+o;c!==e;c+=4)no.slerpFlat(i,0,a,c-o,a,c,s);return i}},fd=class extends ad{constructor(e,t,n,r){super(e,t,n,r)}InterpolantFactoryMethodLinear(e){return new dd(this.times,this.values,this.getValueSize(),e)}};fd.prototype.ValueTypeName=`quaternion`,fd.prototype.InterpolantFactoryMethodSmooth=void 0;var pd=class extends ad{constructor(e,t,n){super(e,t,n)}};pd.prototype.ValueTypeName=`string`,pd.prototype.ValueBufferType=Array,pd.prototype.DefaultInterpolation=ta,pd.prototype.InterpolantFactoryMethodLinear=void 0,pd.prototype.InterpolantFactoryMethodSmooth=void 0;var md=class extends ad{constructor(e,t,n,r){super(e,t,n,r)}};md.prototype.ValueTypeName=`vector`;var hd=new Q,gd=new no,_d=new Q,vd=class extends es{constructor(){super(),this.isCamera=!0,this.type=`Camera`,this.matrixWorldInverse=new Do,this.projectionMatrix=new Do,this.projectionMatrixInverse=new Do,this.coordinateSystem=ha,this._reversedDepth=!1}get reversedDepth(){return this._reversedDepth}copy(e,t){return super.copy(e,t),this.matrixWorldInverse.copy(e.matrixWorldInverse),this.projectionMatrix.copy(e.projectionMatrix),this.projectionMatrixInverse.copy(e.projectionMatrixInverse),this.coordinateSystem=e.coordinateSystem,this}getWorldDirection(e){return super.getWorldDirection(e).negate()}updateMatrixWorld(e){super.updateMatrixWorld(e),this.matrixWorld.decompose(hd,gd,_d),_d.x===1&&_d.y===1&&_d.z===1?this.matrixWorldInverse.copy(this.matrixWorld).invert():this.matrixWorldInverse.compose(hd,gd,_d.set(1,1,1)).invert()}updateWorldMatrix(e,t,n=!1){super.updateWorldMatrix(e,t,n),this.matrixWorld.decompose(hd,gd,_d),_d.x===1&&_d.y===1&&_d.z===1?this.matrixWorldInverse.copy(this.matrixWorld).invert():this.matrixWorldInverse.compose(hd,gd,_d.set(1,1,1)).invert()}clone(){return new this.constructor().copy(this)}},yd=new Q,bd=new Z,xd=new Z,Sd=class extends vd{constructor(e=50,t=1,n=.1,r=2e3){super(),this.isPerspectiveCamera=!0,this.type=`PerspectiveCamera`,this.fov=e,this.zoom=1,this.near=n,this.far=r,this.focus=10,this.aspect=t,this.view=null,this.filmGauge=35,this.filmOffset=0,this.updateProjectionMatrix()}copy(e,t){return super.copy(e,t),this.fov=e.fov,this.zoom=e.zoom,this.near=e.near,this.far=e.far,this.focus=e.focus,this.aspect=e.aspect,this.view=e.view===null?null:Object.assign({},e.view),this.filmGauge=e.filmGauge,this.filmOffset=e.filmOffset,this}setFocalLength(e){let t=.5*this.getFilmHeight()/e;this.fov=ja*2*Math.atan(t),this.updateProjectionMatrix()}getFocalLength(){let e=Math.tan(Aa*.5*this.fov);return .5*this.getFilmHeight()/e}getEffectiveFOV(){return ja*2*Math.atan(Math.tan(Aa*.5*this.fov)/this.zoom)}getFilmWidth(){return this.filmGauge*Math.min(this.aspect,1)}getFilmHeight(){return this.filmGauge/Math.max(this.aspect,1)}getViewBounds(e,t,n){yd.set(-1,-1,.5).applyMatrix4(this.projectionMatrixInverse),t.set(yd.x,yd.y).multiplyScalar(-e/yd.z),yd.set(1,1,.5).applyMatrix4(this.projectionMatrixInverse),n.set(yd.x,yd.y).multiplyScalar(-e/yd.z)}getViewSize(e,t){return this.getViewBounds(e,bd,xd),t.subVectors(xd,bd)}setViewOffset(e,t,n,r,i,a){this.aspect=e/t,this.view===null&&(this.view={enabled:!0,fullWidth:1,fullHeight:1,offsetX:0,offsetY:0,width:1,height:1}),this.view.enabled=!0,this.view.fullWidth=e,this.view.fullHeight=t,this.view.offsetX=n,this.view.offsetY=r,this.view.width=i,this.view.height=a,this.updateProjectionMatrix()}clearViewOffset(){this.view!==null&&(this.view.enabled=!1),this.updateProjectionMatrix()}updateProjectionMatrix(){let e=this.near,t=e*Math.tan(Aa*.5*this.fov)/this.zoom,n=2*t,r=this.aspect*n,i=-.5*r,a=this.view;if(this.view!==null&&this.view.enabled){let e=a.fullWidth,o=a.fullHeight;i+=a.offsetX*r/e,t-=a.offsetY*n/o,r*=a.width/e,n*=a.height/o}let o=this.filmOffset;o!==0&&(i+=e*o/this.getFilmWidth()),this.projectionMatrix.makePerspective(i,i+r,t,t-n,e,this.far,this.coordinateSystem,this.reversedDepth),this.projectionMatrixInverse.copy(this.projectionMatrix).invert()}toJSON(e){let t=super.toJSON(e);return t.object.fov=this.fov,t.object.zoom=this.zoom,t.object.near=this.near,t.object.far=this.far,t.object.focus=this.focus,t.object.aspect=this.aspect,this.view!==null&&(t.object.view=Object.assign({},this.view)),t.object.filmGauge=this.filmGauge,t.object.filmOffset=this.filmOffset,t}},Cd=class extends vd{constructor(e=-1,t=1,n=1,r=-1,i=.1,a=2e3){super(),this.isOrthographicCamera=!0,this.type=`OrthographicCamera`,this.zoom=1,this.view=null,this.left=e,this.right=t,this.top=n,this.bottom=r,this.near=i,this.far=a,this.updateProjectionMatrix()}copy(e,t){return super.copy(e,t),this.left=e.left,this.right=e.right,this.top=e.top,this.bottom=e.bottom,this.near=e.near,this.far=e.far,this.zoom=e.zoom,this.view=e.view===null?null:Object.assign({},e.view),this}setViewOffset(e,t,n,r,i,a){this.view===null&&(this.view={enabled:!0,fullWidth:1,fullHeight:1,offsetX:0,offsetY:0,width:1,height:1}),this.view.enabled=!0,this.view.fullWidth=e,this.view.fullHeight=t,this.view.offsetX=n,this.view.offsetY=r,this.view.width=i,this.view.height=a,this.updateProjectionMatrix()}clearViewOffset(){this.view!==null&&(this.view.enabled=!1),this.updateProjectionMatrix()}updateProjectionMatrix(){let e=(this.right-this.left)/(2*this.zoom),t=(this.top-this.bottom)/(2*this.zoom),n=(this.right+this.left)/2,r=(this.top+this.bottom)/2,i=n-e,a=n+e,o=r+t,s=r-t;if(this.view!==null&&this.view.enabled){let e=(this.right-this.left)/this.view.fullWidth/this.zoom,t=(this.top-this.bottom)/this.view.fullHeight/this.zoom;i+=e*this.view.offsetX,a=i+e*this.view.width,o-=t*this.view.offsetY,s=o-t*this.view.height}this.projectionMatrix.makeOrthographic(i,a,o,s,this.near,this.far,this.coordinateSystem,this.reversedDepth),this.projectionMatrixInverse.copy(this.projectionMatrix).invert()}toJSON(e){let t=super.toJSON(e);return t.object.zoom=this.zoom,t.object.left=this.left,t.object.right=this.right,t.object.top=this.top,t.object.bottom=this.bottom,t.object.near=this.near,t.object.far=this.far,this.view!==null&&(t.object.view=Object.assign({},this.view)),t}},wd=-90,Td=1,Ed=class extends es{constructor(e,t,n){super(),this.type=`CubeCamera`,this.renderTarget=n,this.coordinateSystem=null,this.activeMipmapLevel=0;let r=new Sd(wd,Td,e,t);r.layers=this.layers,this.add(r);let i=new Sd(wd,Td,e,t);i.layers=this.layers,this.add(i);let a=new Sd(wd,Td,e,t);a.layers=this.layers,this.add(a);let o=new Sd(wd,Td,e,t);o.layers=this.layers,this.add(o);let s=new Sd(wd,Td,e,t);s.layers=this.layers,this.add(s);let c=new Sd(wd,Td,e,t);c.layers=this.layers,this.add(c)}updateCoordinateSystem(){let e=this.coordinateSystem,t=this.children.concat(),[n,r,i,a,o,s]=t;for(let e of t)this.remove(e);if(e===2e3)n.up.set(0,1,0),n.lookAt(1,0,0),r.up.set(0,1,0),r.lookAt(-1,0,0),i.up.set(0,0,-1),i.lookAt(0,1,0),a.up.set(0,0,1),a.lookAt(0,-1,0),o.up.set(0,1,0),o.lookAt(0,0,1),s.up.set(0,1,0),s.lookAt(0,0,-1);else if(e===2001)n.up.set(0,-1,0),n.lookAt(-1,0,0),r.up.set(0,-1,0),r.lookAt(1,0,0),i.up.set(0,0,1),i.lookAt(0,1,0),a.up.set(0,0,-1),a.lookAt(0,-1,0),o.up.set(0,-1,0),o.lookAt(0,0,1),s.up.set(0,-1,0),s.lookAt(0,0,-1);else throw Error(`THREE.CubeCamera.updateCoordinateSystem(): Invalid coordinate system: `+e);for(let e of t)this.add(e),e.updateMatrixWorld()}update(e,t){this.parent===null&&this.updateMatrixWorld();let{renderTarget:n,activeMipmapLevel:r}=this;this.coordinateSystem!==e.coordinateSystem&&(this.coordinateSystem=e.coordinateSystem,this.updateCoordinateSystem());let[i,a,o,s,c,l]=this.children,u=e.getRenderTarget(),d=e.getActiveCubeFace(),f=e.getActiveMipmapLevel(),p=e.xr.enabled;e.xr.enabled=!1;let m=n.texture.mipmapsAutoUpdate;n.texture.mipmapsAutoUpdate=!1;let h=!1;h=e.isWebGLRenderer===!0?e.state.buffers.depth.getReversed():e.reversedDepthBuffer,e.setRenderTarget(n,0,r),h&&e.autoClear===!1&&e.clearDepth(),e.render(t,i),e.setRenderTarget(n,1,r),h&&e.autoClear===!1&&e.clearDepth(),e.render(t,a),e.setRenderTarget(n,2,r),h&&e.autoClear===!1&&e.clearDepth(),e.render(t,o),e.setRenderTarget(n,3,r),h&&e.autoClear===!1&&e.clearDepth(),e.render(t,s),e.setRenderTarget(n,4,r),h&&e.autoClear===!1&&e.clearDepth(),e.render(t,c),n.texture.mipmapsAutoUpdate=m,e.setRenderTarget(n,5,r),h&&e.autoClear===!1&&e.clearDepth(),e.render(t,l),e.setRenderTarget(u,d,f),e.xr.enabled=p,n.texture.needsPMREMUpdate=!0}},Dd=class extends Sd{constructor(e=[]){super(),this.isArrayCamera=!0,this.isMultiViewCamera=!1,this.cameras=e,this.perCameraFrustumCulled=!1}},Od=`\\[\\]\\.:\\/`,kd=RegExp(`[\\[\\]\\.:\\/]`,`g`),Ad=`[^\\[\\]\\.:\\/]`,jd=`[^`+Od.replace(`\\.`,``)+`]`,Md=`((?:WC+[\\/:])*)`.replace(`WC`,Ad),Nd=`(WCOD+)?`.replace(`WCOD`,jd),Pd=`(?:\\.(WC+)(?:\\[(.+)\\])?)?`.replace(`WC`,Ad),Fd=`\\.(WC+)(?:\\[(.+)\\])?`.replace(`WC`,Ad),Id=RegExp(`^`+Md+Nd+Pd+Fd+`$`),Ld=[`material`,`materials`,`bones`,`map`],Rd=class{constructor(e,t,n){let r=n||zd.parseTrackName(t);this._targetGroup=e,this._bindings=e.subscribe_(t,r)}getValue(e,t){this.bind();let n=this._targetGroup.nCachedObjects_,r=this._bindings[n];r!==void 0&&r.getValue(e,t)}setValue(e,t){let n=this._bindings;for(let r=this._targetGroup.nCachedObjects_,i=n.length;r!==i;++r)n[r].setValue(e,t)}bind(){let e=this._bindings;for(let t=this._targetGroup.nCachedObjects_,n=e.length;t!==n;++t)e[t].bind()}unbind(){let e=this._bindings;for(let t=this._targetGroup.nCachedObjects_,n=e.length;t!==n;++t)e[t].unbind()}},zd=class e{constructor(t,n,r){this.path=n,this.parsedPath=r||e.parseTrackName(n),this.node=e.findNode(t,this.parsedPath.nodeName),this.rootNode=t,this.getValue=this._getValue_unbound,this.setValue=this._setValue_unbound}static create(t,n,r){return t&&t.isAnimationObjectGroup?new e.Composite(t,n,r):new e(t,n,r)}static sanitizeNodeName(e){return e.replace(/\s/g,`_`).replace(kd,``)}static parseTrackName(e){let t=Id.exec(e);if(t===null)throw Error(`THREE.PropertyBinding: Cannot parse trackName: `+e);let n={nodeName:t[2],objectName:t[3],objectIndex:t[4],propertyName:t[5],propertyIndex:t[6]},r=n.nodeName&&n.nodeName.lastIndexOf(`.`);if(r!==void 0&&r!==-1){let e=n.nodeName.substring(r+1);Ld.indexOf(e)!==-1&&(n.nodeName=n.nodeName.substring(0,r),n.objectName=e)}if(n.propertyName===null||n.propertyName.length===0)throw Error(`THREE.PropertyBinding: can not parse propertyName from trackName: `+e);return n}static findNode(e,t){if(t===void 0||t===``||t===`.`||t===-1||t===e.name||t===e.uuid)return e;if(e.skeleton){let n=e.skeleton.getBoneByName(t);if(n!==void 0)return n}if(e.children){let n=function(e){for(let r=0;r<e.length;r++){let i=e[r];if(i.name===t||i.uuid===t)return i;let a=n(i.children);if(a)return a}return null},r=n(e.children);if(r)return r}return null}_getValue_unavailable(){}_setValue_unavailable(){}_getValue_direct(e,t){e[t]=this.targetObject[this.propertyName]}_getValue_array(e,t){let n=this.resolvedProperty;for(let r=0,i=n.length;r!==i;++r)e[t++]=n[r]}_getValue_arrayElement(e,t){e[t]=this.resolvedProperty[this.propertyIndex]}_getValue_toArray(e,t){this.resolvedProperty.toArray(e,t)}_setValue_direct(e,t){this.targetObject[this.propertyName]=e[t]}_setValue_direct_setNeedsUpdate(e,t){this.targetObject[this.propertyName]=e[t],this.targetObject.needsUpdate=!0}_setValue_direct_setMatrixWorldNeedsUpdate(e,t){this.targetObject[this.propertyName]=e[t],this.targetObject.matrixWorldNeedsUpdate=!0}_setValue_array(e,t){let n=this.resolvedProperty;for(let r=0,i=n.length;r!==i;++r)n[r]=e[t++]}_setValue_array_setNeedsUpdate(e,t){let n=this.resolvedProperty;for(let r=0,i=n.length;r!==i;++r)n[r]=e[t++];this.targetObject.needsUpdate=!0}_setValue_array_setMatrixWorldNeedsUpdate(e,t){let n=this.resolvedProperty;for(let r=0,i=n.length;r!==i;++r)n[r]=e[t++];this.targetObject.matrixWorldNeedsUpdate=!0}_setValue_arrayElement(e,t){this.resolvedProperty[this.propertyIndex]=e[t]}_setValue_arrayElement_setNeedsUpdate(e,t){this.resolvedProperty[this.propertyIndex]=e[t],this.targetObject.needsUpdate=!0}_setValue_arrayElement_setMatrixWorldNeedsUpdate(e,t){this.resolvedProperty[this.propertyIndex]=e[t],this.targetObject.matrixWorldNeedsUpdate=!0}_setValue_fromArray(e,t){this.resolvedProperty.fromArray(e,t)}_setValue_fromArray_setNeedsUpdate(e,t){this.resolvedProperty.fromArray(e,t),this.targetObject.needsUpdate=!0}_setValue_fromArray_setMatrixWorldNeedsUpdate(e,t){this.resolvedProperty.fromArray(e,t),this.targetObject.matrixWorldNeedsUpdate=!0}_getValue_unbound(e,t){this.bind(),this.getValue(e,t)}_setValue_unbound(e,t){this.bind(),this.setValue(e,t)}bind(){let t=this.node,n=this.parsedPath,r=n.objectName,i=n.propertyName,a=n.propertyIndex;if(t||(t=e.findNode(this.rootNode,n.nodeName),this.node=t),this.getValue=this._getValue_unavailable,this.setValue=this._setValue_unavailable,!t){X(`PropertyBinding: No target node found for track: `+this.path+`.`);return}if(r){let e=n.objectIndex;switch(r){case`materials`:if(!t.material){Ca(`PropertyBinding: Can not bind to material as node does not have a material.`,this);return}if(!t.material.materials){Ca(`PropertyBinding: Can not bind to material.materials as node.material does not have a materials array.`,this);return}t=t.material.materials;break;case`bones`:if(!t.skeleton){Ca(`PropertyBinding: Can not bind to bones as node does not have a skeleton.`,this);return}t=t.skeleton.bones;for(let n=0;n<t.length;n++)if(t[n].name===e){e=n;break}break;case`map`:if(`map`in t){t=t.map;break}if(!t.material){Ca(`PropertyBinding: Can not bind to material as node does not have a material.`,this);return}if(!t.material.map){Ca(`PropertyBinding: Can not bind to material.map as node.material does not have a map.`,this);return}t=t.material.map;break;default:if(t[r]===void 0){Ca(`PropertyBinding: Can not bind to objectName of node undefined.`,this);return}t=t[r]}if(e!==void 0){if(t[e]===void 0){Ca(`PropertyBinding: Trying to bind to objectIndex of objectName, but is undefined.`,this,t);return}t=t[e]}}let o=t[i];if(o===void 0){let e=n.nodeName;Ca(`PropertyBinding: Trying to update property for track: `+e+`.`+i+` but it wasn't found.`,t);return}let s=this.Versioning.None;this.targetObject=t,t.isMaterial===!0?s=this.Versioning.NeedsUpdate:t.isObject3D===!0&&(s=this.Versioning.MatrixWorldNeedsUpdate);let c=this.BindingType.Direct;if(a!==void 0){if(i===`morphTargetInfluences`){if(!t.geometry){Ca(`PropertyBinding: Can not bind to morphTargetInfluences because node does not have a geometry.`,this);return}if(!t.geometry.morphAttributes){Ca(`PropertyBinding: Can not bind to morphTargetInfluences because node does not have a geometry.morphAttributes.`,this);return}t.morphTargetDictionary[a]!==void 0&&(a=t.morphTargetDictionary[a])}c=this.BindingType.ArrayElement,this.resolvedProperty=o,this.propertyIndex=a}else o.fromArray!==void 0&&o.toArray!==void 0?(c=this.BindingType.HasFromToArray,this.resolvedProperty=o):Array.isArray(o)?(c=this.BindingType.EntireArray,this.resolvedProperty=o):this.propertyName=i;this.getValue=this.GetterByBindingType[c],this.setValue=this.SetterByBindingTypeAndVersioning[c][s]}unbind(){this.node=null,this.getValue=this._getValue_unbound,this.setValue=this._setValue_unbound}};zd.Composite=Rd,zd.prototype.BindingType={Direct:0,EntireArray:1,ArrayElement:2,HasFromToArray:3},zd.prototype.Versioning={None:0,NeedsUpdate:1,MatrixWorldNeedsUpdate:2},zd.prototype.GetterByBindingType=[zd.prototype._getValue_direct,zd.prototype._getValue_array,zd.prototype._getValue_arrayElement,zd.prototype._getValue_toArray],zd.prototype.SetterByBindingTypeAndVersioning=[[zd.prototype._setValue_direct,zd.prototype._setValue_direct_setNeedsUpdate,zd.prototype._setValue_direct_setMatrixWorldNeedsUpdate],[zd.prototype._setValue_array,zd.prototype._setValue_array_setNeedsUpdate,zd.prototype._setValue_array_setMatrixWorldNeedsUpdate],[zd.prototype._setValue_arrayElement,zd.prototype._setValue_arrayElement_setNeedsUpdate,zd.prototype._setValue_arrayElement_setMatrixWorldNeedsUpdate],[zd.prototype._setValue_fromArray,zd.prototype._setValue_fromArray_setNeedsUpdate,zd.prototype._setValue_fromArray_setMatrixWorldNeedsUpdate]];var Bd=new Do,Vd=class{constructor(e,t,n=0,r=1/0){this.ray=new bc(e,t),this.near=n,this.far=r,this.camera=null,this.layers=new Ro,this.params={Mesh:{},Line:{threshold:1},LOD:{},Points:{threshold:1},Sprite:{}}}set(e,t){this.ray.set(e,t)}setFromCamera(e,t){t.isPerspectiveCamera?(this.ray.origin.setFromMatrixPosition(t.matrixWorld),this.ray.direction.set(e.x,e.y,.5).unproject(t).sub(this.ray.origin).normalize(),this.camera=t):t.isOrthographicCamera?(this.ray.origin.set(e.x,e.y,t.projectionMatrix.elements[14]).unproject(t),this.ray.direction.set(0,0,-1).transformDirection(t.matrixWorld),this.camera=t):Ca(`Raycaster: Unsupported camera type: `+t.type)}setFromXRController(e){return Bd.identity().extractRotation(e.matrixWorld),this.ray.origin.setFromMatrixPosition(e.matrixWorld),this.ray.direction.set(0,0,-1).applyMatrix4(Bd),this}intersectObject(e,t=!0,n=[]){return Ud(e,this,n,t),n.sort(Hd),n}intersectObjects(e,t=!0,n=[]){for(let r=0,i=e.length;r<i;r++)Ud(e[r],this,n,t);return n.sort(Hd),n}};function Hd(e,t){return e.distance-t.distance}function Ud(e,t,n,r){let i=!0;if(e.layers.test(t.layers)&&e.raycast(t,n)===!1&&(i=!1),i===!0&&r===!0){let r=e.children;for(let e=0,i=r.length;e<i;e++)Ud(r[e],t,n,!0)}}var Wd=class{constructor(e=1,t=0,n=0){this.radius=e,this.phi=t,this.theta=n}set(e,t,n){return this.radius=e,this.phi=t,this.theta=n,this}copy(e){return this.radius=e.radius,this.phi=e.phi,this.theta=e.theta,this}makeSafe(){let e=1e-6;return this.phi=Na(this.phi,e,Math.PI-e),this}setFromVector3(e){return this.setFromCartesianCoords(e.x,e.y,e.z)}setFromCartesianCoords(e,t,n){return this.radius=Math.sqrt(e*e+t*t+n*n),this.radius===0?(this.theta=0,this.phi=0):(this.theta=Math.atan2(e,n),this.phi=Math.acos(Na(t/this.radius,-1,1))),this}clone(){return new this.constructor().copy(this)}};(class{static{this.prototype.isMatrix2=!0}constructor(e,t,n,r){this.elements=[1,0,0,1],e!==void 0&&this.set(e,t,n,r)}identity(){return this.set(1,0,0,1),this}fromArray(e,t=0){for(let n=0;n<4;n++)this.elements[n]=e[n+t];return this}set(e,t,n,r){let i=this.elements;return i[0]=e,i[2]=t,i[1]=n,i[3]=r,this}});var Gd=class extends Da{constructor(e,t=null){super(),this.object=e,this.domElement=t,this.enabled=!0,this.state=-1,this.keys={},this.mouseButtons={LEFT:null,MIDDLE:null,RIGHT:null},this.touches={ONE:null,TWO:null}}connect(e){this.domElement!==null&&this.disconnect(),this.domElement=e}disconnect(){}dispose(){}update(){}};function Kd(e,t,n,r){let i=qd(r);switch(n){case li:return e*t;case mi:return e*t/i.components*i.byteLength;case hi:return e*t/i.components*i.byteLength;case gi:return e*t*2/i.components*i.byteLength;case _i:return e*t*2/i.components*i.byteLength;case ui:return e*t*3/i.components*i.byteLength;case di:return e*t*4/i.components*i.byteLength;case vi:return e*t*4/i.components*i.byteLength;case yi:case bi:return Math.floor((e+3)/4)*Math.floor((t+3)/4)*8;case xi:case Si:return Math.floor((e+3)/4)*Math.floor((t+3)/4)*16;case wi:case Ei:return Math.max(e,16)*Math.max(t,8)/4;case Ci:case Ti:return Math.max(e,8)*Math.max(t,8)/2;case Di:case Oi:case Ai:case ji:return Math.floor((e+3)/4)*Math.floor((t+3)/4)*8;case ki:case Mi:case Ni:return Math.floor((e+3)/4)*Math.floor((t+3)/4)*16;case Pi:return Math.floor((e+3)/4)*Math.floor((t+3)/4)*16;case Fi:return Math.floor((e+4)/5)*Math.floor((t+3)/4)*16;case Ii:return Math.floor((e+4)/5)*Math.floor((t+4)/5)*16;case Li:return Math.floor((e+5)/6)*Math.floor((t+4)/5)*16;case Ri:return Math.floor((e+5)/6)*Math.floor((t+5)/6)*16;case zi:return Math.floor((e+7)/8)*Math.floor((t+4)/5)*16;case Bi:return Math.floor((e+7)/8)*Math.floor((t+5)/6)*16;case Vi:return Math.floor((e+7)/8)*Math.floor((t+7)/8)*16;case Hi:return Math.floor((e+9)/10)*Math.floor((t+4)/5)*16;case Ui:return Math.floor((e+9)/10)*Math.floor((t+5)/6)*16;case Wi:return Math.floor((e+9)/10)*Math.floor((t+7)/8)*16;case Gi:return Math.floor((e+9)/10)*Math.floor((t+9)/10)*16;case Ki:return Math.floor((e+11)/12)*Math.floor((t+9)/10)*16;case qi:return Math.floor((e+11)/12)*Math.floor((t+11)/12)*16;case Ji:case Yi:case Xi:return Math.ceil(e/4)*Math.ceil(t/4)*16;case Zi:case Qi:return Math.ceil(e/4)*Math.ceil(t/4)*8;case $i:case ea:return Math.ceil(e/4)*Math.ceil(t/4)*16}throw Error(`Unable to determine texture byte length for ${n} format.`)}function qd(e){switch(e){case Xr:case Zr:return{byteLength:1,components:1};case $r:case Qr:case ri:return{byteLength:2,components:1};case ii:case ai:return{byteLength:2,components:4};case ti:case ei:case ni:return{byteLength:4,components:1};case si:case ci:return{byteLength:4,components:3}}throw Error(`THREE.TextureUtils: Unknown texture type ${e}.`)}typeof __THREE_DEVTOOLS__<`u`&&__THREE_DEVTOOLS__.dispatchEvent(new CustomEvent(`register`,{detail:{revision:`187`}})),typeof window<`u`&&(window.__THREE__?X(`WARNING: Multiple instances of Three.js being imported.`):window.__THREE__=`187`);function Jd(){let e=null,t=!1,n=null,r=null;function i(t,a){r=e.requestAnimationFrame(i),n(t,a)}return{start:function(){t!==!0&&n!==null&&e!==null&&(r=e.requestAnimationFrame(i),t=!0)},stop:function(){e!==null&&e.cancelAnimationFrame(r),t=!1},setAnimationLoop:function(e){n=e},setContext:function(t){e=t}}}function Yd(e){let t=new WeakMap;function n(t,n){let r=t.array,i=t.usage,a=r.byteLength,o=e.createBuffer();e.bindBuffer(n,o),e.bufferData(n,r,i),t.onUploadCallback();let s;if(r instanceof Float32Array)s=e.FLOAT;else if(typeof Float16Array<`u`&&r instanceof Float16Array)s=e.HALF_FLOAT;else if(r instanceof Uint16Array)s=t.isFloat16BufferAttribute?e.HALF_FLOAT:e.UNSIGNED_SHORT;else if(r instanceof Int16Array)s=e.SHORT;else if(r instanceof Uint32Array)s=e.UNSIGNED_INT;else if(r instanceof Int32Array)s=e.INT;else if(r instanceof Int8Array)s=e.BYTE;else if(r instanceof Uint8Array)s=e.UNSIGNED_BYTE;else if(r instanceof Uint8ClampedArray)s=e.UNSIGNED_BYTE;else throw Error(`THREE.WebGLAttributes: Unsupported buffer data format: `+r);return{buffer:o,type:s,bytesPerElement:r.BYTES_PER_ELEMENT,version:t.version,size:a}}function r(t,n,r){let i=n.array,a=n.updateRanges;if(e.bindBuffer(r,t),a.length===0)e.bufferSubData(r,0,i);else{a.sort((e,t)=>e.start-t.start);let t=0;for(let e=1;e<a.length;e++){let n=a[t],r=a[e];r.start<=n.start+n.count+1?n.count=Math.max(n.count,r.start+r.count-n.start):(++t,a[t]=r)}a.length=t+1;for(let t=0,n=a.length;t<n;t++){let n=a[t];e.bufferSubData(r,n.start*i.BYTES_PER_ELEMENT,i,n.start,n.count)}n.clearUpdateRanges()}n.onUploadCallback()}function i(e){return e.isInterleavedBufferAttribute&&(e=e.data),t.get(e)}function a(n){n.isInterleavedBufferAttribute&&(n=n.data);let r=t.get(n);r&&(e.deleteBuffer(r.buffer),t.delete(n))}function o(e,i){if(e.isInterleavedBufferAttribute&&(e=e.data),e.isGLBufferAttribute){let n=t.get(e);(!n||n.version<e.version)&&t.set(e,{buffer:e.buffer,type:e.type,bytesPerElement:e.elementSize,version:e.version});return}let a=t.get(e);if(a===void 0)t.set(e,n(e,i));else if(a.version<e.version){if(a.size!==e.array.byteLength)throw Error(`THREE.WebGLAttributes: The size of the buffer attribute's array buffer does not match the original size. Resizing buffer attributes is not supported.`);r(a.buffer,e,i),a.version=e.version}}return{get:i,remove:a,update:o}}var Xd={alphahash_fragment:`#ifdef USE_ALPHAHASH
	if ( diffuseColor.a < getAlphaHashThreshold( vPosition ) ) discard;
#endif`,alphahash_pars_fragment:`#ifdef USE_ALPHAHASH
	const float ALPHA_HASH_SCALE = 0.05;
	float hash2D( vec2 value ) {
		return fract( 1.0e4 * sin( 17.0 * value.x + 0.1 * value.y ) * ( 0.1 + abs( sin( 13.0 * value.y + value.x ) ) ) );
	}
	float hash3D( vec3 value ) {
		return hash2D( vec2( hash2D( value.xy ), value.z ) );
	}
	float getAlphaHashThreshold( vec3 position ) {
		float maxDeriv = max(
			length( dFdx( position.xyz ) ),
			length( dFdy( position.xyz ) )
		);
		float pixScale = 1.0 / ( ALPHA_HASH_SCALE * maxDeriv );
		vec2 pixScales = vec2(
			exp2( floor( log2( pixScale ) ) ),
			exp2( ceil( log2( pixScale ) ) )
		);
		vec2 alpha = vec2(
			hash3D( floor( pixScales.x * position.xyz ) ),
			hash3D( floor( pixScales.y * position.xyz ) )
		);
		float lerpFactor = fract( log2( pixScale ) );
		float x = ( 1.0 - lerpFactor ) * alpha.x + lerpFactor * alpha.y;
		float a = min( lerpFactor, 1.0 - lerpFactor );
		vec3 cases = vec3(
			x * x / ( 2.0 * a * ( 1.0 - a ) ),
			( x - 0.5 * a ) / ( 1.0 - a ),
			1.0 - ( ( 1.0 - x ) * ( 1.0 - x ) / ( 2.0 * a * ( 1.0 - a ) ) )
		);
		float threshold = ( x < ( 1.0 - a ) )
			? ( ( x < a ) ? cases.x : cases.y )
			: cases.z;
		return clamp( threshold , 1.0e-6, 1.0 );
	}
#endif`,alphamap_fragment:`#ifdef USE_ALPHAMAP
	diffuseColor.a *= texture2D( alphaMap, vAlphaMapUv ).g;
#endif`,alphamap_pars_fragment:`#ifdef USE_ALPHAMAP
	uniform sampler2D alphaMap;
#endif`,alphatest_fragment:`#ifdef USE_ALPHATEST
	#ifdef ALPHA_TO_COVERAGE
	diffuseColor.a = smoothstep( alphaTest, alphaTest + fwidth( diffuseColor.a ), diffuseColor.a );
	if ( diffuseColor.a == 0.0 ) discard;
	#else
	if ( diffuseColor.a < alphaTest ) discard;
	#endif
#endif`,alphatest_pars_fragment:`#ifdef USE_ALPHATEST
	uniform float alphaTest;
#endif`,aomap_fragment:`#ifdef USE_AOMAP
	float ambientOcclusion = ( texture2D( aoMap, vAoMapUv ).r - 1.0 ) * aoMapIntensity + 1.0;
	reflectedLight.indirectDiffuse *= ambientOcclusion;
	#if defined( USE_CLEARCOAT ) 
		clearcoatSpecularIndirect *= ambientOcclusion;
	#endif
	#if defined( USE_SHEEN ) 
		sheenSpecularIndirect *= ambientOcclusion;
	#endif
	#if defined( USE_ENVMAP ) && defined( STANDARD )
		float dotNV = saturate( dot( geometryNormal, geometryViewDir ) );
		reflectedLight.indirectSpecular *= computeSpecularOcclusion( dotNV, ambientOcclusion, material.roughness );
	#endif
#endif`,aomap_pars_fragment:`#ifdef USE_AOMAP
	uniform sampler2D aoMap;
	uniform float aoMapIntensity;
#endif`,batching_pars_vertex:`#ifdef USE_BATCHING
	#if ! defined( GL_ANGLE_multi_draw )
	#define gl_DrawID _gl_DrawID
	uniform int _gl_DrawID;
	#endif
	uniform highp sampler2D batchingTexture;
	uniform highp usampler2D batchingIdTexture;
	mat4 getBatchingMatrix( const in float i ) {
		int size = textureSize( batchingTexture, 0 ).x;
		int j = int( i ) * 4;
		int x = j % size;
		int y = j / size;
		vec4 v1 = texelFetch( batchingTexture, ivec2( x, y ), 0 );
		vec4 v2 = texelFetch( batchingTexture, ivec2( x + 1, y ), 0 );
		vec4 v3 = texelFetch( batchingTexture, ivec2( x + 2, y ), 0 );
		vec4 v4 = texelFetch( batchingTexture, ivec2( x + 3, y ), 0 );
		return mat4( v1, v2, v3, v4 );
	}
	float getIndirectIndex( const in int i ) {
		int size = textureSize( batchingIdTexture, 0 ).x;
		int x = i % size;
		int y = i / size;
		return float( texelFetch( batchingIdTexture, ivec2( x, y ), 0 ).r );
	}
#endif
#ifdef USE_BATCHING_COLOR
	uniform sampler2D batchingColorTexture;
	vec4 getBatchingColor( const in float i ) {
		int size = textureSize( batchingColorTexture, 0 ).x;
		int j = int( i );
		int x = j % size;
		int y = j / size;
		return texelFetch( batchingColorTexture, ivec2( x, y ), 0 );
	}
#endif`,batching_vertex:`#ifdef USE_BATCHING
	mat4 batchingMatrix = getBatchingMatrix( getIndirectIndex( gl_DrawID ) );
#endif`,begin_vertex:`vec3 transformed = vec3( position );
#ifdef USE_ALPHAHASH
	vPosition = vec3( position );
#endif`,beginnormal_vertex:`vec3 objectNormal = vec3( normal );
#ifdef USE_TANGENT
	vec3 objectTangent = vec3( tangent.xyz );
#endif`,bsdfs:`float G_BlinnPhong_Implicit( ) {
	return 0.25;
}
float D_BlinnPhong( const in float shininess, const in float dotNH ) {
	return RECIPROCAL_PI * ( shininess * 0.5 + 1.0 ) * pow( dotNH, shininess );
}
vec3 BRDF_BlinnPhong( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in vec3 specularColor, const in float shininess ) {
	vec3 halfDir = normalize( lightDir + viewDir );
	float dotNH = saturate( dot( normal, halfDir ) );
	float dotVH = saturate( dot( viewDir, halfDir ) );
	vec3 F = F_Schlick( specularColor, 1.0, dotVH );
	float G = G_BlinnPhong_Implicit( );
	float D = D_BlinnPhong( shininess, dotNH );
	return F * ( G * D );
} // validated`,iridescence_fragment:`#ifdef USE_IRIDESCENCE
	const mat3 XYZ_TO_REC709 = mat3(
		 3.2404542, -0.9692660,  0.0556434,
		-1.5371385,  1.8760108, -0.2040259,
		-0.4985314,  0.0415560,  1.0572252
	);
	vec3 Fresnel0ToIor( vec3 fresnel0 ) {
		vec3 sqrtF0 = sqrt( fresnel0 );
		return ( vec3( 1.0 ) + sqrtF0 ) / ( vec3( 1.0 ) - sqrtF0 );
	}
	vec3 IorToFresnel0( vec3 transmittedIor, float incidentIor ) {
		return pow2( ( transmittedIor - vec3( incidentIor ) ) / ( transmittedIor + vec3( incidentIor ) ) );
	}
	float IorToFresnel0( float transmittedIor, float incidentIor ) {
		return pow2( ( transmittedIor - incidentIor ) / ( transmittedIor + incidentIor ));
	}
	vec3 evalSensitivity( float OPD, vec3 shift ) {
		float phase = 2.0 * PI * OPD * 1.0e-9;
		vec3 val = vec3( 5.4856e-13, 4.4201e-13, 5.2481e-13 );
		vec3 pos = vec3( 1.6810e+06, 1.7953e+06, 2.2084e+06 );
		vec3 var = vec3( 4.3278e+09, 9.3046e+09, 6.6121e+09 );
		vec3 xyz = val * sqrt( 2.0 * PI * var ) * cos( pos * phase + shift ) * exp( - pow2( phase ) * var );
		xyz.x += 9.7470e-14 * sqrt( 2.0 * PI * 4.5282e+09 ) * cos( 2.2399e+06 * phase + shift[ 0 ] ) * exp( - 4.5282e+09 * pow2( phase ) );
		xyz /= 1.0685e-7;
		vec3 rgb = XYZ_TO_REC709 * xyz;
		return rgb;
	}
	vec3 evalIridescence( float outsideIOR, float eta2, float cosTheta1, float thinFilmThickness, vec3 baseF0 ) {
		vec3 I;
		float iridescenceIOR = mix( outsideIOR, eta2, smoothstep( 0.0, 0.03, thinFilmThickness ) );
		float sinTheta2Sq = pow2( outsideIOR / iridescenceIOR ) * ( 1.0 - pow2( cosTheta1 ) );
		float cosTheta2Sq = 1.0 - sinTheta2Sq;
		if ( cosTheta2Sq < 0.0 ) {
			return vec3( 1.0 );
		}
		float cosTheta2 = sqrt( cosTheta2Sq );
		float R0 = IorToFresnel0( iridescenceIOR, outsideIOR );
		float R12 = F_Schlick( R0, 1.0, cosTheta1 );
		float T121 = 1.0 - R12;
		float phi12 = 0.0;
		if ( iridescenceIOR < outsideIOR ) phi12 = PI;
		float phi21 = PI - phi12;
		vec3 baseIOR = Fresnel0ToIor( clamp( baseF0, 0.0, 0.9999 ) );		vec3 R1 = IorToFresnel0( baseIOR, iridescenceIOR );
		vec3 R23 = F_Schlick( R1, 1.0, cosTheta2 );
		vec3 phi23 = vec3( 0.0 );
		if ( baseIOR[ 0 ] < iridescenceIOR ) phi23[ 0 ] = PI;
		if ( baseIOR[ 1 ] < iridescenceIOR ) phi23[ 1 ] = PI;
		if ( baseIOR[ 2 ] < iridescenceIOR ) phi23[ 2 ] = PI;
		float OPD = 2.0 * iridescenceIOR * thinFilmThickness * cosTheta2;
		vec3 phi = vec3( phi21 ) + phi23;
		vec3 R123 = clamp( R12 * R23, 1e-5, 0.9999 );
		vec3 r123 = sqrt( R123 );
		vec3 Rs = pow2( T121 ) * R23 / ( vec3( 1.0 ) - R123 );
		vec3 C0 = R12 + Rs;
		I = C0;
		vec3 Cm = Rs - T121;
		for ( int m = 1; m <= 2; ++ m ) {
			Cm *= r123;
			vec3 Sm = 2.0 * evalSensitivity( float( m ) * OPD, float( m ) * phi );
			I += Cm * Sm;
		}
		return max( I, vec3( 0.0 ) );
	}
#endif`,bumpmap_pars_fragment:`#ifdef USE_BUMPMAP
	uniform sampler2D bumpMap;
	uniform float bumpScale;
	vec2 dHdxy_fwd() {
		vec2 dSTdx = dFdx( vBumpMapUv );
		vec2 dSTdy = dFdy( vBumpMapUv );
		float Hll = bumpScale * texture2D( bumpMap, vBumpMapUv ).x;
		float dBx = bumpScale * texture2D( bumpMap, vBumpMapUv + dSTdx ).x - Hll;
		float dBy = bumpScale * texture2D( bumpMap, vBumpMapUv + dSTdy ).x - Hll;
		return vec2( dBx, dBy );
	}
	vec3 perturbNormalArb( vec3 surf_pos, vec3 surf_norm, vec2 dHdxy, float faceDirection ) {
		vec3 vSigmaX = normalize( dFdx( surf_pos.xyz ) );
		vec3 vSigmaY = normalize( dFdy( surf_pos.xyz ) );
		vec3 vN = surf_norm;
		vec3 R1 = cross( vSigmaY, vN );
		vec3 R2 = cross( vN, vSigmaX );
		float fDet = dot( vSigmaX, R1 ) * faceDirection;
		vec3 vGrad = sign( fDet ) * ( dHdxy.x * R1 + dHdxy.y * R2 );
		return normalize( abs( fDet ) * surf_norm - vGrad );
	}
#endif`,clipping_planes_fragment:`#if NUM_CLIPPING_PLANES > 0
	vec4 plane;
	#ifdef ALPHA_TO_COVERAGE
		float distanceToPlane, distanceGradient;
		float clipOpacity = 1.0;
		#pragma unroll_loop_start
		for ( int i = 0; i < UNION_CLIPPING_PLANES; i ++ ) {
			plane = clippingPlanes[ i ];
			distanceToPlane = - dot( vClipPosition, plane.xyz ) + plane.w;
			distanceGradient = fwidth( distanceToPlane ) / 2.0;
			clipOpacity *= smoothstep( - distanceGradient, distanceGradient, distanceToPlane );
			if ( clipOpacity == 0.0 ) discard;
		}
		#pragma unroll_loop_end
		#if UNION_CLIPPING_PLANES < NUM_CLIPPING_PLANES
			float unionClipOpacity = 1.0;
			#pragma unroll_loop_start
			for ( int i = UNION_CLIPPING_PLANES; i < NUM_CLIPPING_PLANES; i ++ ) {
				plane = clippingPlanes[ i ];
				distanceToPlane = - dot( vClipPosition, plane.xyz ) + plane.w;
				distanceGradient = fwidth( distanceToPlane ) / 2.0;
				unionClipOpacity *= 1.0 - smoothstep( - distanceGradient, distanceGradient, distanceToPlane );
			}
			#pragma unroll_loop_end
			clipOpacity *= 1.0 - unionClipOpacity;
		#endif
		diffuseColor.a *= clipOpacity;
		if ( diffuseColor.a == 0.0 ) discard;
	#else
		#pragma unroll_loop_start
		for ( int i = 0; i < UNION_CLIPPING_PLANES; i ++ ) {
			plane = clippingPlanes[ i ];
			if ( dot( vClipPosition, plane.xyz ) > plane.w ) discard;
		}
		#pragma unroll_loop_end
		#if UNION_CLIPPING_PLANES < NUM_CLIPPING_PLANES
			bool clipped = true;
			#pragma unroll_loop_start
			for ( int i = UNION_CLIPPING_PLANES; i < NUM_CLIPPING_PLANES; i ++ ) {
				plane = clippingPlanes[ i ];
				clipped = ( dot( vClipPosition, plane.xyz ) > plane.w ) && clipped;
			}
			#pragma unroll_loop_end
			if ( clipped ) discard;
		#endif
	#endif
#endif`,clipping_planes_pars_fragment:`#if NUM_CLIPPING_PLANES > 0
	varying vec3 vClipPosition;
	uniform vec4 clippingPlanes[ NUM_CLIPPING_PLANES ];
#endif`,clipping_planes_pars_vertex:`#if NUM_CLIPPING_PLANES > 0
	varying vec3 vClipPosition;
#endif`,clipping_planes_vertex:`#if NUM_CLIPPING_PLANES > 0
	vClipPosition = - mvPosition.xyz;
#endif`,color_fragment:`#if defined( USE_COLOR ) || defined( USE_COLOR_ALPHA )
	diffuseColor *= vColor;
#endif`,color_pars_fragment:`#if defined( USE_COLOR ) || defined( USE_COLOR_ALPHA )
	varying vec4 vColor;
#endif`,color_pars_vertex:`#if defined( USE_COLOR ) || defined( USE_COLOR_ALPHA ) || defined( USE_INSTANCING_COLOR ) || defined( USE_BATCHING_COLOR )
	varying vec4 vColor;
#endif`,color_vertex:`#if defined( USE_COLOR ) || defined( USE_COLOR_ALPHA ) || defined( USE_INSTANCING_COLOR ) || defined( USE_BATCHING_COLOR )
	vColor = vec4( 1.0 );
#endif
#ifdef USE_COLOR_ALPHA
	vColor *= color;
#elif defined( USE_COLOR )
	vColor.rgb *= color;
#endif
#ifdef USE_INSTANCING_COLOR
	vColor.rgb *= instanceColor.rgb;
#endif
#ifdef USE_BATCHING_COLOR
	vColor *= getBatchingColor( getIndirectIndex( gl_DrawID ) );
#endif`,common:`#define PI 3.141592653589793
#define PI2 6.283185307179586
#define PI_HALF 1.5707963267948966
#define RECIPROCAL_PI 0.3183098861837907
#define RECIPROCAL_PI2 0.15915494309189535
#define EPSILON 1e-6
#ifndef saturate
#define saturate( a ) clamp( a, 0.0, 1.0 )
#endif
#define whiteComplement( a ) ( 1.0 - saturate( a ) )
float pow2( const in float x ) { return x*x; }
vec3 pow2( const in vec3 x ) { return x*x; }
float pow3( const in float x ) { return x*x*x; }
float pow4( const in float x ) { float x2 = x*x; return x2*x2; }
float max3( const in vec3 v ) { return max( max( v.x, v.y ), v.z ); }
float average( const in vec3 v ) { return dot( v, vec3( 0.3333333 ) ); }
highp float rand( const in vec2 uv ) {
	const highp float a = 12.9898, b = 78.233, c = 43758.5453;
	highp float dt = dot( uv.xy, vec2( a,b ) ), sn = mod( dt, PI );
	return fract( sin( sn ) * c );
}
#ifdef HIGH_PRECISION
	float precisionSafeLength( vec3 v ) { return length( v ); }
#else
	float precisionSafeLength( vec3 v ) {
		float maxComponent = max3( abs( v ) );
		return length( v / maxComponent ) * maxComponent;
	}
#endif
struct IncidentLight {
	vec3 color;
	vec3 direction;
	bool visible;
};
struct ReflectedLight {
	vec3 directDiffuse;
	vec3 directSpecular;
	vec3 indirectDiffuse;
	vec3 indirectSpecular;
};
#ifdef USE_ALPHAHASH
	varying vec3 vPosition;
#endif
vec3 transformDirection( in vec3 dir, in mat4 matrix ) {
	return normalize( ( matrix * vec4( dir, 0.0 ) ).xyz );
}
#define inverseTransformDirection transformDirectionByInverseViewMatrix
vec3 transformNormalByInverseViewMatrix( in vec3 normal, in mat4 viewMatrix ) {
	return normalize( ( vec4( normal, 0.0 ) * viewMatrix ).xyz );
}
vec3 transformDirectionByInverseViewMatrix( in vec3 dir, in mat4 viewMatrix ) {
	return normalize( ( vec4( dir, 0.0 ) * viewMatrix ).xyz );
}
bool isPerspectiveMatrix( mat4 m ) {
	return m[ 2 ][ 3 ] == - 1.0;
}
vec2 equirectUv( in vec3 dir ) {
	float u = atan( dir.z, dir.x ) * RECIPROCAL_PI2 + 0.5;
	float v = asin( clamp( dir.y, - 1.0, 1.0 ) ) * RECIPROCAL_PI + 0.5;
	return vec2( u, v );
}
vec3 BRDF_Lambert( const in vec3 diffuseColor ) {
	return RECIPROCAL_PI * diffuseColor;
}
vec3 F_Schlick( const in vec3 f0, const in float f90, const in float dotVH ) {
	float fresnel = exp2( ( - 5.55473 * dotVH - 6.98316 ) * dotVH );
	return f0 * ( 1.0 - fresnel ) + ( f90 * fresnel );
}
float F_Schlick( const in float f0, const in float f90, const in float dotVH ) {
	float fresnel = exp2( ( - 5.55473 * dotVH - 6.98316 ) * dotVH );
	return f0 * ( 1.0 - fresnel ) + ( f90 * fresnel );
} // validated`,defaultnormal_vertex:`vec3 transformedNormal = objectNormal;
#ifdef USE_TANGENT
	vec3 transformedTangent = objectTangent;
#endif
#ifdef USE_BATCHING
	mat3 bm = mat3( batchingMatrix );
	transformedNormal /= vec3( dot( bm[ 0 ], bm[ 0 ] ), dot( bm[ 1 ], bm[ 1 ] ), dot( bm[ 2 ], bm[ 2 ] ) );
	transformedNormal = bm * transformedNormal;
	#ifdef USE_TANGENT
		transformedTangent = bm * transformedTangent;
	#endif
#endif
#ifdef USE_INSTANCING
	mat3 im = mat3( instanceMatrix );
	transformedNormal /= vec3( dot( im[ 0 ], im[ 0 ] ), dot( im[ 1 ], im[ 1 ] ), dot( im[ 2 ], im[ 2 ] ) );
	transformedNormal = im * transformedNormal;
	#ifdef USE_TANGENT
		transformedTangent = im * transformedTangent;
	#endif
#endif
transformedNormal = normalMatrix * transformedNormal;
#ifdef FLIP_SIDED
	transformedNormal = - transformedNormal;
#endif
#ifdef USE_TANGENT
	transformedTangent = ( modelViewMatrix * vec4( transformedTangent, 0.0 ) ).xyz;
#endif`,displacementmap_pars_vertex:`#ifdef USE_DISPLACEMENTMAP
	uniform sampler2D displacementMap;
	uniform float displacementScale;
	uniform float displacementBias;
#endif`,displacementmap_vertex:`#ifdef USE_DISPLACEMENTMAP
	transformed += normalize( objectNormal ) * ( texture2D( displacementMap, vDisplacementMapUv ).x * displacementScale + displacementBias );
#endif`,emissivemap_fragment:`#ifdef USE_EMISSIVEMAP
	vec4 emissiveColor = texture2D( emissiveMap, vEmissiveMapUv );
	#ifdef DECODE_VIDEO_TEXTURE_EMISSIVE
		emissiveColor = sRGBTransferEOTF( emissiveColor );
	#endif
	totalEmissiveRadiance *= emissiveColor.rgb;
#endif`,emissivemap_pars_fragment:`#ifdef USE_EMISSIVEMAP
	uniform sampler2D emissiveMap;
#endif`,colorspace_fragment:`gl_FragColor = linearToOutputTexel( gl_FragColor );`,colorspace_pars_fragment:`vec4 LinearTransferOETF( in vec4 value ) {
	return value;
}
vec4 sRGBTransferEOTF( in vec4 value ) {
	return vec4( mix( pow( value.rgb * 0.9478672986 + vec3( 0.0521327014 ), vec3( 2.4 ) ), value.rgb * 0.0773993808, vec3( lessThanEqual( value.rgb, vec3( 0.04045 ) ) ) ), value.a );
}
vec4 sRGBTransferOETF( in vec4 value ) {
	return vec4( mix( pow( value.rgb, vec3( 0.41666 ) ) * 1.055 - vec3( 0.055 ), value.rgb * 12.92, vec3( lessThanEqual( value.rgb, vec3( 0.0031308 ) ) ) ), value.a );
}`,envmap_fragment:`#ifdef USE_ENVMAP
	#ifdef ENV_WORLDPOS
		vec3 cameraToFrag;
		if ( isOrthographic ) {
			cameraToFrag = normalize( vec3( - viewMatrix[ 0 ][ 2 ], - viewMatrix[ 1 ][ 2 ], - viewMatrix[ 2 ][ 2 ] ) );
		} else {
			cameraToFrag = normalize( vWorldPosition - cameraPosition );
		}
		vec3 worldNormal = transformNormalByInverseViewMatrix( normal, viewMatrix );
		#ifdef ENVMAP_MODE_REFLECTION
			vec3 reflectVec = reflect( cameraToFrag, worldNormal );
		#else
			vec3 reflectVec = refract( cameraToFrag, worldNormal, refractionRatio );
		#endif
	#else
		vec3 reflectVec = vReflect;
	#endif
	#ifdef ENVMAP_TYPE_CUBE
		vec4 envColor = textureCube( envMap, envMapRotation * reflectVec );
		#ifdef ENVMAP_BLENDING_MULTIPLY
			outgoingLight = mix( outgoingLight, outgoingLight * envColor.xyz, specularStrength * reflectivity );
		#elif defined( ENVMAP_BLENDING_MIX )
			outgoingLight = mix( outgoingLight, envColor.xyz, specularStrength * reflectivity );
		#elif defined( ENVMAP_BLENDING_ADD )
			outgoingLight += envColor.xyz * specularStrength * reflectivity;
		#endif
	#endif
#endif`,envmap_common_pars_fragment:`#ifdef USE_ENVMAP
	uniform float envMapIntensity;
	uniform mat3 envMapRotation;
	uniform samplerCube envMap;
	#ifdef ENVMAP_TYPE_PMREM
		float roughnessToMip( const in float roughness ) {
			float r = clamp( roughness, 0.0, 1.0 );
			return ENVMAP_MAX_LOD * r * ( 2.0 - r );
		}
	#endif
#endif`,envmap_pars_fragment:`#ifdef USE_ENVMAP
	uniform float reflectivity;
	#if defined( USE_BUMPMAP ) || defined( USE_NORMALMAP ) || defined( PHONG ) || defined( LAMBERT )
		#define ENV_WORLDPOS
	#endif
	#ifdef ENV_WORLDPOS
		varying vec3 vWorldPosition;
		uniform float refractionRatio;
	#else
		varying vec3 vReflect;
	#endif
#endif`,envmap_pars_vertex:`#ifdef USE_ENVMAP
	#if defined( USE_BUMPMAP ) || defined( USE_NORMALMAP ) || defined( PHONG ) || defined( LAMBERT )
		#define ENV_WORLDPOS
	#endif
	#ifdef ENV_WORLDPOS
		
		varying vec3 vWorldPosition;
	#else
		varying vec3 vReflect;
		uniform float refractionRatio;
	#endif
#endif`,envmap_physical_pars_fragment:`#ifdef USE_ENVMAP
	vec3 getIBLIrradiance( const in vec3 normal ) {
		#ifdef ENVMAP_TYPE_PMREM
			vec3 worldNormal = transformNormalByInverseViewMatrix( normal, viewMatrix );
			vec4 envMapColor = textureLod( envMap, envMapRotation * worldNormal, ENVMAP_MAX_LOD );
			return PI * envMapColor.rgb * envMapIntensity;
		#else
			return vec3( 0.0 );
		#endif
	}
	vec3 getIBLRadiance( const in vec3 viewDir, const in vec3 normal, const in float roughness ) {
		#ifdef ENVMAP_TYPE_PMREM
			vec3 reflectVec = reflect( - viewDir, normal );
			reflectVec = normalize( mix( reflectVec, normal, pow4( roughness ) ) );
			reflectVec = transformDirectionByInverseViewMatrix( reflectVec, viewMatrix );
			vec4 envMapColor = textureLod( envMap, envMapRotation * reflectVec, roughnessToMip( roughness ) );
			return envMapColor.rgb * envMapIntensity;
		#else
			return vec3( 0.0 );
		#endif
	}
	#ifdef USE_RETROREFLECTION
		vec3 getIBLRetroRadiance( const in vec3 viewDir, const in vec3 normal, const in float roughness ) {
			#ifdef ENVMAP_TYPE_PMREM
				vec3 retroVec = normalize( mix( viewDir, normal, pow4( roughness ) ) );
				retroVec = transformDirectionByInverseViewMatrix( retroVec, viewMatrix );
				vec4 envMapColor = textureLod( envMap, envMapRotation * retroVec, roughnessToMip( roughness ) );
				return envMapColor.rgb * envMapIntensity;
			#else
				return vec3( 0.0 );
			#endif
		}
	#endif
	#ifdef USE_ANISOTROPY
		vec3 getIBLAnisotropyRadiance( const in vec3 viewDir, const in vec3 normal, const in float roughness, const in vec3 bitangent, const in float anisotropy ) {
			#ifdef ENVMAP_TYPE_PMREM
				vec3 bentNormal = cross( bitangent, viewDir );
				bentNormal = normalize( cross( bentNormal, bitangent ) );
				bentNormal = normalize( mix( bentNormal, normal, pow2( pow2( 1.0 - anisotropy * ( 1.0 - roughness ) ) ) ) );
				return getIBLRadiance( viewDir, bentNormal, roughness );
			#else
				return vec3( 0.0 );
			#endif
		}
		#ifdef USE_RETROREFLECTION
			vec3 getIBLAnisotropyRetroRadiance( const in vec3 viewDir, const in vec3 normal, const in float roughness, const in vec3 bitangent, const in float anisotropy ) {
				#ifdef ENVMAP_TYPE_PMREM
					vec3 bentNormal = cross( bitangent, viewDir );
					bentNormal = normalize( cross( bentNormal, bitangent ) );
					bentNormal = normalize( mix( bentNormal, normal, pow2( pow2( 1.0 - anisotropy * ( 1.0 - roughness ) ) ) ) );
					return getIBLRetroRadiance( viewDir, bentNormal, roughness );
				#else
					return vec3( 0.0 );
				#endif
			}
		#endif
	#endif
#endif`,envmap_vertex:`#ifdef USE_ENVMAP
	#ifdef ENV_WORLDPOS
		vWorldPosition = worldPosition.xyz;
	#else
		vec3 cameraToVertex;
		if ( isOrthographic ) {
			cameraToVertex = normalize( vec3( - viewMatrix[ 0 ][ 2 ], - viewMatrix[ 1 ][ 2 ], - viewMatrix[ 2 ][ 2 ] ) );
		} else {
			cameraToVertex = normalize( worldPosition.xyz - cameraPosition );
		}
		vec3 worldNormal = transformNormalByInverseViewMatrix( transformedNormal, viewMatrix );
		#ifdef ENVMAP_MODE_REFLECTION
			vReflect = reflect( cameraToVertex, worldNormal );
		#else
			vReflect = refract( cameraToVertex, worldNormal, refractionRatio );
		#endif
	#endif
#endif`,fog_vertex:`#ifdef USE_FOG
	vFogDepth = - mvPosition.z;
#endif`,fog_pars_vertex:`#ifdef USE_FOG
	varying float vFogDepth;
#endif`,fog_fragment:`#ifdef USE_FOG
	#ifdef FOG_EXP2
		float fogFactor = 1.0 - exp( - fogDensity * fogDensity * vFogDepth * vFogDepth );
	#else
		float fogFactor = smoothstep( fogNear, fogFar, vFogDepth );
	#endif
	gl_FragColor.rgb = mix( gl_FragColor.rgb, fogColor, fogFactor );
#endif`,fog_pars_fragment:`#ifdef USE_FOG
	uniform vec3 fogColor;
	varying float vFogDepth;
	#ifdef FOG_EXP2
		uniform float fogDensity;
	#else
		uniform float fogNear;
		uniform float fogFar;
	#endif
#endif`,gradientmap_pars_fragment:`#ifdef USE_GRADIENTMAP
	uniform sampler2D gradientMap;
#endif
vec3 getGradientIrradiance( vec3 normal, vec3 lightDirection ) {
	float dotNL = dot( normal, lightDirection );
	vec2 coord = vec2( dotNL * 0.5 + 0.5, 0.0 );
	#ifdef USE_GRADIENTMAP
		return vec3( texture2D( gradientMap, coord ).r );
	#else
		vec2 fw = fwidth( coord ) * 0.5;
		return mix( vec3( 0.7 ), vec3( 1.0 ), smoothstep( 0.7 - fw.x, 0.7 + fw.x, coord.x ) );
	#endif
}`,lightmap_pars_fragment:`#ifdef USE_LIGHTMAP
	uniform sampler2D lightMap;
	uniform float lightMapIntensity;
#endif`,lights_lambert_fragment:`LambertMaterial material;
material.diffuseColor = diffuseColor.rgb;
material.specularStrength = specularStrength;`,lights_lambert_pars_fragment:`varying vec3 vViewPosition;
struct LambertMaterial {
	vec3 diffuseColor;
	float specularStrength;
};
void RE_Direct_Lambert( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in LambertMaterial material, inout ReflectedLight reflectedLight ) {
	float dotNL = saturate( dot( geometryNormal, directLight.direction ) );
	vec3 irradiance = dotNL * directLight.color;
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
void RE_IndirectDiffuse_Lambert( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in LambertMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
#define RE_Direct				RE_Direct_Lambert
#define RE_IndirectDiffuse		RE_IndirectDiffuse_Lambert`,lights_pars_begin:`uniform bool receiveShadow;
uniform vec3 ambientLightColor;
#if defined( USE_LIGHT_PROBES )
	uniform vec3 lightProbe[ 9 ];
#endif
vec3 shGetIrradianceAt( in vec3 normal, in vec3 shCoefficients[ 9 ] ) {
	float x = normal.x, y = normal.y, z = normal.z;
	vec3 result = shCoefficients[ 0 ] * 0.886227;
	result += shCoefficients[ 1 ] * 2.0 * 0.511664 * y;
	result += shCoefficients[ 2 ] * 2.0 * 0.511664 * z;
	result += shCoefficients[ 3 ] * 2.0 * 0.511664 * x;
	result += shCoefficients[ 4 ] * 2.0 * 0.429043 * x * y;
	result += shCoefficients[ 5 ] * 2.0 * 0.429043 * y * z;
	result += shCoefficients[ 6 ] * ( 0.743125 * z * z - 0.247708 );
	result += shCoefficients[ 7 ] * 2.0 * 0.429043 * x * z;
	result += shCoefficients[ 8 ] * 0.429043 * ( x * x - y * y );
	return result;
}
vec3 getLightProbeIrradiance( const in vec3 lightProbe[ 9 ], const in vec3 normal ) {
	vec3 worldNormal = transformNormalByInverseViewMatrix( normal, viewMatrix );
	vec3 irradiance = shGetIrradianceAt( worldNormal, lightProbe );
	return irradiance;
}
vec3 getAmbientLightIrradiance( const in vec3 ambientLightColor ) {
	vec3 irradiance = ambientLightColor;
	return irradiance;
}
float getDistanceAttenuation( const in float lightDistance, const in float cutoffDistance, const in float decayExponent ) {
	float distanceFalloff = 1.0 / max( pow( lightDistance, decayExponent ), 0.01 );
	if ( cutoffDistance > 0.0 ) {
		distanceFalloff *= pow2( saturate( 1.0 - pow4( lightDistance / cutoffDistance ) ) );
	}
	return distanceFalloff;
}
float getSpotAttenuation( const in float coneCosine, const in float penumbraCosine, const in float angleCosine ) {
	return smoothstep( coneCosine, penumbraCosine, angleCosine );
}
#if NUM_SUN_LIGHTS > 0
	struct SunLight {
		vec3 direction;
		vec3 color;
	};
	uniform SunLight sunLights[ NUM_SUN_LIGHTS ];
	void getSunLightInfo( const in SunLight sunLight, out IncidentLight light ) {
		light.color = sunLight.color;
		light.direction = sunLight.direction;
		light.visible = true;
	}
#endif
#if NUM_DIR_LIGHTS > 0
	struct DirectionalLight {
		vec3 direction;
		vec3 color;
	};
	uniform DirectionalLight directionalLights[ NUM_DIR_LIGHTS ];
	void getDirectionalLightInfo( const in DirectionalLight directionalLight, out IncidentLight light ) {
		light.color = directionalLight.color;
		light.direction = directionalLight.direction;
		light.visible = true;
	}
#endif
#if NUM_POINT_LIGHTS > 0
	struct PointLight {
		vec3 position;
		vec3 color;
		float distance;
		float decay;
	};
	uniform PointLight pointLights[ NUM_POINT_LIGHTS ];
	void getPointLightInfo( const in PointLight pointLight, const in vec3 geometryPosition, out IncidentLight light ) {
		vec3 lVector = pointLight.position - geometryPosition;
		light.direction = normalize( lVector );
		float lightDistance = length( lVector );
		light.color = pointLight.color;
		light.color *= getDistanceAttenuation( lightDistance, pointLight.distance, pointLight.decay );
		light.visible = ( light.color != vec3( 0.0 ) );
	}
#endif
#if NUM_SPOT_LIGHTS > 0
	struct SpotLight {
		vec3 position;
		vec3 direction;
		vec3 color;
		float distance;
		float decay;
		float coneCos;
		float penumbraCos;
	};
	uniform SpotLight spotLights[ NUM_SPOT_LIGHTS ];
	void getSpotLightInfo( const in SpotLight spotLight, const in vec3 geometryPosition, out IncidentLight light ) {
		vec3 lVector = spotLight.position - geometryPosition;
		light.direction = normalize( lVector );
		float angleCos = dot( light.direction, spotLight.direction );
		float spotAttenuation = getSpotAttenuation( spotLight.coneCos, spotLight.penumbraCos, angleCos );
		if ( spotAttenuation > 0.0 ) {
			float lightDistance = length( lVector );
			light.color = spotLight.color * spotAttenuation;
			light.color *= getDistanceAttenuation( lightDistance, spotLight.distance, spotLight.decay );
			light.visible = ( light.color != vec3( 0.0 ) );
		} else {
			light.color = vec3( 0.0 );
			light.visible = false;
		}
	}
#endif
#if NUM_RECT_AREA_LIGHTS > 0
	struct RectAreaLight {
		vec3 color;
		vec3 position;
		vec3 halfWidth;
		vec3 halfHeight;
	};
	uniform sampler2D ltc_1;	uniform sampler2D ltc_2;
	uniform RectAreaLight rectAreaLights[ NUM_RECT_AREA_LIGHTS ];
#endif
#if NUM_HEMI_LIGHTS > 0
	struct HemisphereLight {
		vec3 direction;
		vec3 skyColor;
		vec3 groundColor;
	};
	uniform HemisphereLight hemisphereLights[ NUM_HEMI_LIGHTS ];
	vec3 getHemisphereLightIrradiance( const in HemisphereLight hemiLight, const in vec3 normal ) {
		float dotNL = dot( normal, hemiLight.direction );
		float hemiDiffuseWeight = 0.5 * dotNL + 0.5;
		vec3 irradiance = mix( hemiLight.groundColor, hemiLight.skyColor, hemiDiffuseWeight );
		return irradiance;
	}
#endif
#include <lightprobes_pars_fragment>`,lights_toon_fragment:`ToonMaterial material;
material.diffuseColor = diffuseColor.rgb;`,lights_toon_pars_fragment:`varying vec3 vViewPosition;
struct ToonMaterial {
	vec3 diffuseColor;
};
void RE_Direct_Toon( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in ToonMaterial material, inout ReflectedLight reflectedLight ) {
	vec3 irradiance = getGradientIrradiance( geometryNormal, directLight.direction ) * directLight.color;
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
void RE_IndirectDiffuse_Toon( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in ToonMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
#define RE_Direct				RE_Direct_Toon
#define RE_IndirectDiffuse		RE_IndirectDiffuse_Toon`,lights_phong_fragment:`BlinnPhongMaterial material;
material.diffuseColor = diffuseColor.rgb;
material.specularColor = specular;
material.specularShininess = shininess;
material.specularStrength = specularStrength;`,lights_phong_pars_fragment:`varying vec3 vViewPosition;
struct BlinnPhongMaterial {
	vec3 diffuseColor;
	vec3 specularColor;
	float specularShininess;
	float specularStrength;
};
void RE_Direct_BlinnPhong( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in BlinnPhongMaterial material, inout ReflectedLight reflectedLight ) {
	float dotNL = saturate( dot( geometryNormal, directLight.direction ) );
	vec3 irradiance = dotNL * directLight.color;
	reflectedLight.directDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
	reflectedLight.directSpecular += irradiance * BRDF_BlinnPhong( directLight.direction, geometryViewDir, geometryNormal, material.specularColor, material.specularShininess ) * material.specularStrength;
}
void RE_IndirectDiffuse_BlinnPhong( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in BlinnPhongMaterial material, inout ReflectedLight reflectedLight ) {
	reflectedLight.indirectDiffuse += irradiance * BRDF_Lambert( material.diffuseColor );
}
#define RE_Direct				RE_Direct_BlinnPhong
#define RE_IndirectDiffuse		RE_IndirectDiffuse_BlinnPhong`,lights_physical_fragment:`PhysicalMaterial material;
material.diffuseColor = diffuseColor.rgb;
material.diffuseContribution = diffuseColor.rgb * ( 1.0 - metalnessFactor );
material.metalness = metalnessFactor;
vec3 dxy = max( abs( dFdx( nonPerturbedNormal ) ), abs( dFdy( nonPerturbedNormal ) ) );
float geometryRoughness = max( max( dxy.x, dxy.y ), dxy.z );
material.roughness = max( roughnessFactor, 0.045 );
material.roughness += geometryRoughness;
material.roughness = min( material.roughness, 1.0 );
#ifdef USE_DIFFUSE_ROUGHNESS
	float diffuseRoughnessFactor = diffuseRoughness;
	#ifdef USE_DIFFUSE_ROUGHNESSMAP
		diffuseRoughnessFactor *= texture2D( diffuseRoughnessMap, vDiffuseRoughnessMapUv ).r;
	#endif
	material.diffuseRoughness = saturate( diffuseRoughnessFactor );
#endif
#ifdef IOR
	material.ior = ior;
	#ifdef USE_SPECULAR
		float specularIntensityFactor = specularIntensity;
		vec3 specularColorFactor = specularColor;
		#ifdef USE_SPECULAR_COLORMAP
			specularColorFactor *= texture2D( specularColorMap, vSpecularColorMapUv ).rgb;
		#endif
		#ifdef USE_SPECULAR_INTENSITYMAP
			specularIntensityFactor *= texture2D( specularIntensityMap, vSpecularIntensityMapUv ).a;
		#endif
		material.specularF90 = mix( specularIntensityFactor, 1.0, metalnessFactor );
	#else
		float specularIntensityFactor = 1.0;
		vec3 specularColorFactor = vec3( 1.0 );
		material.specularF90 = 1.0;
	#endif
	material.specularColor = min( pow2( ( material.ior - 1.0 ) / ( material.ior + 1.0 ) ) * specularColorFactor, vec3( 1.0 ) ) * specularIntensityFactor;
	material.specularColorBlended = mix( material.specularColor, diffuseColor.rgb, metalnessFactor );
#else
	material.specularColor = vec3( 0.04 );
	material.specularColorBlended = mix( material.specularColor, diffuseColor.rgb, metalnessFactor );
	material.specularF90 = 1.0;
#endif
#ifdef USE_CLEARCOAT
	material.clearcoat = clearcoat;
	material.clearcoatRoughness = clearcoatRoughness;
	material.clearcoatF0 = vec3( 0.04 );
	material.clearcoatF90 = 1.0;
	#ifdef USE_CLEARCOATMAP
		material.clearcoat *= texture2D( clearcoatMap, vClearcoatMapUv ).x;
	#endif
	#ifdef USE_CLEARCOAT_ROUGHNESSMAP
		material.clearcoatRoughness *= texture2D( clearcoatRoughnessMap, vClearcoatRoughnessMapUv ).y;
	#endif
	material.clearcoat = saturate( material.clearcoat );	material.clearcoatRoughness = max( material.clearcoatRoughness, 0.045 );
	material.clearcoatRoughness += geometryRoughness;
	material.clearcoatRoughness = min( material.clearcoatRoughness, 1.0 );
#endif
#ifdef USE_DISPERSION
	material.dispersion = dispersion;
#endif
#ifdef USE_RETROREFLECTION
	material.retroreflectivity = retroreflectivity;
#endif
#ifdef USE_IRIDESCENCE
	material.iridescence = iridescence;
	material.iridescenceIOR = iridescenceIOR;
	#ifdef USE_IRIDESCENCEMAP
		material.iridescence *= texture2D( iridescenceMap, vIridescenceMapUv ).r;
	#endif
	#ifdef USE_IRIDESCENCE_THICKNESSMAP
		material.iridescenceThickness = (iridescenceThicknessMaximum - iridescenceThicknessMinimum) * texture2D( iridescenceThicknessMap, vIridescenceThicknessMapUv ).g + iridescenceThicknessMinimum;
	#else
		material.iridescenceThickness = iridescenceThicknessMaximum;
	#endif
#endif
#ifdef USE_SHEEN
	material.sheenColor = sheenColor;
	#ifdef USE_SHEEN_COLORMAP
		material.sheenColor *= texture2D( sheenColorMap, vSheenColorMapUv ).rgb;
	#endif
	material.sheenRoughness = clamp( sheenRoughness, 0.0001, 1.0 );
	#ifdef USE_SHEEN_ROUGHNESSMAP
		material.sheenRoughness *= texture2D( sheenRoughnessMap, vSheenRoughnessMapUv ).a;
	#endif
#endif
#ifdef USE_ANISOTROPY
	#ifdef USE_ANISOTROPYMAP
		mat2 anisotropyMat = mat2( anisotropyVector.x, anisotropyVector.y, - anisotropyVector.y, anisotropyVector.x );
		vec3 anisotropyPolar = texture2D( anisotropyMap, vAnisotropyMapUv ).rgb;
		vec2 anisotropyV = anisotropyMat * normalize( 2.0 * anisotropyPolar.rg - vec2( 1.0 ) ) * anisotropyPolar.b;
	#else
		vec2 anisotropyV = anisotropyVector;
	#endif
	material.anisotropy = length( anisotropyV );
	if( material.anisotropy == 0.0 ) {
		anisotropyV = vec2( 1.0, 0.0 );
	} else {
		anisotropyV /= material.anisotropy;
		material.anisotropy = saturate( material.anisotropy );
	}
	material.alphaT = mix( pow2( material.roughness ), 1.0, pow2( material.anisotropy ) );
	material.anisotropyT = tbn[ 0 ] * anisotropyV.x + tbn[ 1 ] * anisotropyV.y;
	material.anisotropyB = tbn[ 1 ] * anisotropyV.x - tbn[ 0 ] * anisotropyV.y;
#endif`,lights_physical_pars_fragment:`uniform sampler2D dfgLUT;
struct PhysicalMaterial {
	vec3 diffuseColor;
	vec3 diffuseContribution;
	vec3 specularColor;
	vec3 specularColorBlended;
	float roughness;
	float metalness;
	float specularF90;
	float dispersion;
	vec2 dfg;
	vec3 multiScatteringCompensation;
	#ifdef USE_DIFFUSE_ROUGHNESS
		float diffuseRoughness;
	#endif
	#ifdef USE_RETROREFLECTION
		float retroreflectivity;
	#endif
	#ifdef USE_CLEARCOAT
		float clearcoat;
		float clearcoatRoughness;
		vec3 clearcoatF0;
		float clearcoatF90;
	#endif
	#ifdef USE_IRIDESCENCE
		float iridescence;
		float iridescenceIOR;
		float iridescenceThickness;
		vec3 iridescenceFresnel;
		vec3 iridescenceF0Dielectric;
		vec3 iridescenceF0Metallic;
	#endif
	#ifdef USE_SHEEN
		vec3 sheenColor;
		float sheenRoughness;
	#endif
	#ifdef IOR
		float ior;
	#endif
	#ifdef USE_TRANSMISSION
		float transmission;
		float transmissionAlpha;
		float thickness;
		float attenuationDistance;
		vec3 attenuationColor;
	#endif
	#ifdef USE_ANISOTROPY
		float anisotropy;
		float alphaT;
		vec3 anisotropyT;
		vec3 anisotropyB;
	#endif
};
vec3 clearcoatSpecularDirect = vec3( 0.0 );
vec3 clearcoatSpecularIndirect = vec3( 0.0 );
vec3 sheenSpecularDirect = vec3( 0.0 );
vec3 sheenSpecularIndirect = vec3(0.0 );
vec3 Schlick_to_F0( const in vec3 f, const in float f90, const in float dotVH ) {
    float x = clamp( 1.0 - dotVH, 0.0, 1.0 );
    float x2 = x * x;
    float x5 = clamp( x * x2 * x2, 0.0, 0.9999 );
    return ( f - vec3( f90 ) * x5 ) / ( 1.0 - x5 );
}
#ifdef USE_DIFFUSE_ROUGHNESS
	const float EON_EPSILON = 1e-7;
	float FON_DirectionalAlbedo( const in float mu, const in float roughness, const in float A ) {
		float muComp = 1.0 - mu;
		float gOverPi = muComp * ( 0.0571085289 + muComp * ( 0.491881867 + muComp * ( - 0.332181442 + muComp * 0.0714429953 ) ) );
		return A * ( 1.0 + roughness * gOverPi );
	}
	vec3 BRDF_EON( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in vec3 diffuseColor, const in float roughness ) {
		vec3 rho = saturate( diffuseColor );
		if ( roughness <= EON_EPSILON ) return BRDF_Lambert( rho );
		float dotNL = saturate( dot( normal, lightDir ) );
		float dotNV = saturate( dot( normal, viewDir ) );
		float s = dot( lightDir, viewDir ) - dotNL * dotNV;
		float sOverT = ( s > 0.0 ) ? s / max( max( dotNL, dotNV ), EON_EPSILON ) : s;
		float A = 1.0 / ( 1.0 + ( 0.5 - 2.0 / ( 3.0 * PI ) ) * roughness );
		vec3 singleScatter = rho * RECIPROCAL_PI * A * ( 1.0 + roughness * sOverT );
		float averageAlbedo = A * ( 1.0 + ( 2.0 / 3.0 - 28.0 / ( 15.0 * PI ) ) * roughness );
		float albedoV = FON_DirectionalAlbedo( dotNV, roughness, A );
		float albedoL = FON_DirectionalAlbedo( dotNL, roughness, A );
		vec3 rhoMultiScatter = rho * rho * averageAlbedo / max( vec3( EON_EPSILON ), vec3( 1.0 ) - rho * ( 1.0 - averageAlbedo ) );
		vec3 multiScatter = rhoMultiScatter * RECIPROCAL_PI
			* max( EON_EPSILON, 1.0 - albedoV )
			* max( EON_EPSILON, 1.0 - albedoL )
			/ max( EON_EPSILON, 1.0 - averageAlbedo );
		return singleScatter + multiScatter;
	}
	vec3 EON_DirectionalAlbedo( const in vec3 diffuseColor, const in float roughness, const in float dotNV ) {
		vec3 rho = saturate( diffuseColor );
		if ( roughness <= EON_EPSILON ) return rho;
		float A = 1.0 / ( 1.0 + ( 0.5 - 2.0 / ( 3.0 * PI ) ) * roughness );
		float directionalAlbedo = FON_DirectionalAlbedo( dotNV, roughness, A );
		float averageAlbedo = A * ( 1.0 + ( 2.0 / 3.0 - 28.0 / ( 15.0 * PI ) ) * roughness );
		vec3 rhoMultiScatter = rho * rho * averageAlbedo / max( vec3( EON_EPSILON ), vec3( 1.0 ) - rho * ( 1.0 - averageAlbedo ) );
		return rho * directionalAlbedo + rhoMultiScatter * ( 1.0 - directionalAlbedo );
	}
#endif
float V_GGX_SmithCorrelated( const in float alpha, const in float dotNL, const in float dotNV ) {
	float a2 = pow2( alpha );
	float gv = dotNL * sqrt( a2 + ( 1.0 - a2 ) * pow2( dotNV ) );
	float gl = dotNV * sqrt( a2 + ( 1.0 - a2 ) * pow2( dotNL ) );
	return 0.5 / max( gv + gl, EPSILON );
}
float D_GGX( const in float alpha, const in float dotNH ) {
	float a2 = pow2( alpha );
	float denom = pow2( dotNH ) * ( a2 - 1.0 ) + 1.0;
	return RECIPROCAL_PI * a2 / pow2( denom );
}
#ifdef USE_ANISOTROPY
	float V_GGX_SmithCorrelated_Anisotropic( const in float alphaT, const in float alphaB, const in float dotTV, const in float dotBV, const in float dotTL, const in float dotBL, const in float dotNV, const in float dotNL ) {
		float gv = dotNL * length( vec3( alphaT * dotTV, alphaB * dotBV, dotNV ) );
		float gl = dotNV * length( vec3( alphaT * dotTL, alphaB * dotBL, dotNL ) );
		return 0.5 / max( gv + gl, EPSILON );
	}
	float D_GGX_Anisotropic( const in float alphaT, const in float alphaB, const in float dotNH, const in float dotTH, const in float dotBH ) {
		float a2 = alphaT * alphaB;
		highp vec3 v = vec3( alphaB * dotTH, alphaT * dotBH, a2 * dotNH );
		highp float v2 = dot( v, v );
		float w2 = a2 / v2;
		return RECIPROCAL_PI * a2 * pow2 ( w2 );
	}
#endif
#ifdef USE_CLEARCOAT
	vec3 BRDF_GGX_Clearcoat( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in PhysicalMaterial material) {
		vec3 f0 = material.clearcoatF0;
		float f90 = material.clearcoatF90;
		float roughness = max( material.clearcoatRoughness, 0.045 );
		float alpha = pow2( roughness );
		vec3 halfDir = normalize( lightDir + viewDir );
		float dotNL = saturate( dot( normal, lightDir ) );
		float dotNV = saturate( dot( normal, viewDir ) );
		float dotNH = saturate( dot( normal, halfDir ) );
		float dotVH = saturate( dot( viewDir, halfDir ) );
		vec3 F = F_Schlick( f0, f90, dotVH );
		float V = V_GGX_SmithCorrelated( alpha, dotNL, dotNV );
		float D = D_GGX( alpha, dotNH );
		return F * ( V * D );
	}
#endif
vec3 BRDF_GGX( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, const in PhysicalMaterial material ) {
	vec3 f0 = material.specularColorBlended;
	float f90 = material.specularF90;
	float roughness = max( material.roughness, 0.045 );
	float alpha = pow2( roughness );
	vec3 halfDir = normalize( lightDir + viewDir );
	float dotNL = saturate( dot( normal, lightDir ) );
	float dotNV = saturate( dot( normal, viewDir ) );
	float dotNH = saturate( dot( normal, halfDir ) );
	float dotVH = saturate( dot( viewDir, halfDir ) );
	vec3 F = F_Schlick( f0, f90, dotVH );
	#ifdef USE_IRIDESCENCE
		F = mix( F, material.iridescenceFresnel, material.iridescence );
	#endif
	#ifdef USE_ANISOTROPY
		float dotTL = dot( material.anisotropyT, lightDir );
		float dotTV = dot( material.anisotropyT, viewDir );
		float dotTH = dot( material.anisotropyT, halfDir );
		float dotBL = dot( material.anisotropyB, lightDir );
		float dotBV = dot( material.anisotropyB, viewDir );
		float dotBH = dot( material.anisotropyB, halfDir );
		float alphaT = max( material.alphaT, alpha );
		float V = V_GGX_SmithCorrelated_Anisotropic( alphaT, alpha, dotTV, dotBV, dotTL, dotBL, dotNV, dotNL );
		float D = D_GGX_Anisotropic( alphaT, alpha, dotNH, dotTH, dotBH );
	#else
		float V = V_GGX_SmithCorrelated( alpha, dotNL, dotNV );
		float D = D_GGX( alpha, dotNH );
	#endif
	return F * ( V * D );
}
vec2 LTC_Uv( const in vec3 N, const in vec3 V, const in float roughness ) {
	const float LUT_SIZE = 64.0;
	const float LUT_SCALE = ( LUT_SIZE - 1.0 ) / LUT_SIZE;
	const float LUT_BIAS = 0.5 / LUT_SIZE;
	float dotNV = saturate( dot( N, V ) );
	vec2 uv = vec2( roughness, sqrt( 1.0 - dotNV ) );
	uv = uv * LUT_SCALE + LUT_BIAS;
	return uv;
}
float LTC_ClippedSphereFormFactor( const in vec3 f ) {
	float l = length( f );
	return max( ( l * l + f.z ) / ( l + 1.0 ), 0.0 );
}
vec3 LTC_EdgeVectorFormFactor( const in vec3 v1, const in vec3 v2 ) {
	float x = dot( v1, v2 );
	float y = abs( x );
	float a = 0.8543985 + ( 0.4965155 + 0.0145206 * y ) * y;
	float b = 3.4175940 + ( 4.1616724 + y ) * y;
	float v = a / b;
	float theta_sintheta = ( x > 0.0 ) ? v : 0.5 * inversesqrt( max( 1.0 - x * x, 1e-7 ) ) - v;
	return cross( v1, v2 ) * theta_sintheta;
}
vec3 LTC_Evaluate( const in vec3 N, const in vec3 V, const in vec3 P, const in mat3 mInv, const in vec3 rectCoords[ 4 ] ) {
	vec3 v1 = rectCoords[ 1 ] - rectCoords[ 0 ];
	vec3 v2 = rectCoords[ 3 ] - rectCoords[ 0 ];
	vec3 lightNormal = cross( v1, v2 );
	if( dot( lightNormal, P - rectCoords[ 0 ] ) < 0.0 ) return vec3( 0.0 );
	vec3 T1, T2;
	T1 = normalize( V - N * dot( V, N ) );
	T2 = - cross( N, T1 );
	mat3 mat = mInv * transpose( mat3( T1, T2, N ) );
	vec3 coords[ 4 ];
	coords[ 0 ] = mat * ( rectCoords[ 0 ] - P );
	coords[ 1 ] = mat * ( rectCoords[ 1 ] - P );
	coords[ 2 ] = mat * ( rectCoords[ 2 ] - P );
	coords[ 3 ] = mat * ( rectCoords[ 3 ] - P );
	coords[ 0 ] = normalize( coords[ 0 ] );
	coords[ 1 ] = normalize( coords[ 1 ] );
	coords[ 2 ] = normalize( coords[ 2 ] );
	coords[ 3 ] = normalize( coords[ 3 ] );
	vec3 vectorFormFactor = vec3( 0.0 );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 0 ], coords[ 1 ] );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 1 ], coords[ 2 ] );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 2 ], coords[ 3 ] );
	vectorFormFactor += LTC_EdgeVectorFormFactor( coords[ 3 ], coords[ 0 ] );
	float result = LTC_ClippedSphereFormFactor( vectorFormFactor );
	return vec3( result );
}
#if defined( USE_SHEEN )
float D_Charlie( float roughness, float dotNH ) {
	float alpha = pow2( roughness );
	float invAlpha = 1.0 / alpha;
	float cos2h = dotNH * dotNH;
	float sin2h = max( 1.0 - cos2h, 0.0078125 );
	return ( 2.0 + invAlpha ) * pow( sin2h, invAlpha * 0.5 ) / ( 2.0 * PI );
}
float V_Neubelt( float dotNV, float dotNL ) {
	return saturate( 1.0 / ( 4.0 * ( dotNL + dotNV - dotNL * dotNV ) ) );
}
vec3 BRDF_Sheen( const in vec3 lightDir, const in vec3 viewDir, const in vec3 normal, vec3 sheenColor, const in float sheenRoughness ) {
	vec3 halfDir = normalize( lightDir + viewDir );
	float dotNL = saturate( dot( normal, lightDir ) );
	float dotNV = saturate( dot( normal, viewDir ) );
	float dotNH = saturate( dot( normal, halfDir ) );
	float D = D_Charlie( sheenRoughness, dotNH );
	float V = V_Neubelt( dotNV, dotNL );
	return sheenColor * ( D * V );
}
#endif
float IBLSheenBRDF( const in vec3 normal, const in vec3 viewDir, const in float roughness ) {
	float dotNV = saturate( dot( normal, viewDir ) );
	float r2 = roughness * roughness;
	float rInv = 1.0 / ( roughness + 0.1 );
	float a = -1.9362 + 1.0678 * roughness + 0.4573 * r2 - 0.8469 * rInv;
	float b = -0.6014 + 0.5538 * roughness - 0.4670 * r2 - 0.1255 * rInv;
	float DG = exp( a * dotNV + b );
	return saturate( DG );
}
vec3 EnvironmentBRDF( const in vec3 normal, const in vec3 viewDir, const in vec3 specularColor, const in float specularF90, const in float roughness ) {
	float dotNV = saturate( dot( normal, viewDir ) );
	vec2 fab = texture2D( dfgLUT, vec2( roughness, dotNV ) ).rg;
	return specularColor * fab.x + specularF90 * fab.y;
}
#ifdef USE_IRIDESCENCE
void computeMultiscatteringIridescence( const in vec2 fab, const in vec3 specularColor, const in float specularF90, const in float iridescence, const in vec3 iridescenceF0, inout vec3 singleScatter, inout vec3 multiScatter ) {
#else
void computeMultiscattering( const in vec2 fab, const in vec3 specularColor, const in float specularF90, inout vec3 singleScatter, inout vec3 multiScatter ) {
#endif
	#ifdef USE_IRIDESCENCE
		vec3 Fr = mix( specularColor, iridescenceF0, iridescence );
	#else
		vec3 Fr = specularColor;
	#endif
	vec3 FssEss = Fr * fab.x + specularF90 * fab.y;
	float Ess = fab.x + fab.y;
	float Ems = 1.0 - Ess;
	vec3 Favg = Fr + ( 1.0 - Fr ) * 0.047619;	vec3 Fms = FssEss * Favg / ( 1.0 - Ems * Favg );
	singleScatter += FssEss;
	multiScatter += Fms * Ems;
}
#if NUM_RECT_AREA_LIGHTS > 0
	void RE_Direct_RectArea_Physical( const in RectAreaLight rectAreaLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight ) {
		vec3 normal = geometryNormal;
		vec3 viewDir = geometryViewDir;
		vec3 position = geometryPosition;
		vec3 lightPos = rectAreaLight.position;
		vec3 halfWidth = rectAreaLight.halfWidth;
		vec3 halfHeight = rectAreaLight.halfHeight;
		vec3 lightColor = rectAreaLight.color;
		float roughness = material.roughness;
		vec3 rectCoords[ 4 ];
		rectCoords[ 0 ] = lightPos + halfWidth - halfHeight;		rectCoords[ 1 ] = lightPos - halfWidth - halfHeight;
		rectCoords[ 2 ] = lightPos - halfWidth + halfHeight;
		rectCoords[ 3 ] = lightPos + halfWidth + halfHeight;
		vec2 uv = LTC_Uv( normal, viewDir, roughness );
		vec4 t1 = texture2D( ltc_1, uv );
		vec4 t2 = texture2D( ltc_2, uv );
		mat3 mInv = mat3(
			vec3( t1.x, 0, t1.y ),
			vec3(    0, 1,    0 ),
			vec3( t1.z, 0, t1.w )
		);
		vec3 fresnel = ( material.specularColorBlended * t2.x + ( material.specularF90 - material.specularColorBlended ) * t2.y );
		reflectedLight.directSpecular += lightColor * fresnel * LTC_Evaluate( normal, viewDir, position, mInv, rectCoords );
		reflectedLight.directDiffuse += lightColor * material.diffuseContribution * LTC_Evaluate( normal, viewDir, position, mat3( 1.0 ), rectCoords );
		#ifdef USE_CLEARCOAT
			vec3 Ncc = geometryClearcoatNormal;
			vec2 uvClearcoat = LTC_Uv( Ncc, viewDir, material.clearcoatRoughness );
			vec4 t1Clearcoat = texture2D( ltc_1, uvClearcoat );
			vec4 t2Clearcoat = texture2D( ltc_2, uvClearcoat );
			mat3 mInvClearcoat = mat3(
				vec3( t1Clearcoat.x, 0, t1Clearcoat.y ),
				vec3(             0, 1,             0 ),
				vec3( t1Clearcoat.z, 0, t1Clearcoat.w )
			);
			vec3 fresnelClearcoat = material.clearcoatF0 * t2Clearcoat.x + ( material.clearcoatF90 - material.clearcoatF0 ) * t2Clearcoat.y;
			clearcoatSpecularDirect += lightColor * fresnelClearcoat * LTC_Evaluate( Ncc, viewDir, position, mInvClearcoat, rectCoords );
		#endif
	}
#endif
void RE_Direct_Physical( const in IncidentLight directLight, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight ) {
	float dotNL = saturate( dot( geometryNormal, directLight.direction ) );
	vec3 irradiance = dotNL * directLight.color;
	#ifdef USE_CLEARCOAT
		float dotNLcc = saturate( dot( geometryClearcoatNormal, directLight.direction ) );
		vec3 ccIrradiance = dotNLcc * directLight.color;
		clearcoatSpecularDirect += ccIrradiance * BRDF_GGX_Clearcoat( directLight.direction, geometryViewDir, geometryClearcoatNormal, material );
	#endif
	#ifdef USE_SHEEN
 
 		sheenSpecularDirect += irradiance * BRDF_Sheen( directLight.direction, geometryViewDir, geometryNormal, material.sheenColor, material.sheenRoughness );
 
 		float sheenAlbedoV = IBLSheenBRDF( geometryNormal, geometryViewDir, material.sheenRoughness );
 		float sheenAlbedoL = IBLSheenBRDF( geometryNormal, directLight.direction, material.sheenRoughness );
 
 		float sheenEnergyComp = 1.0 - max3( material.sheenColor ) * max( sheenAlbedoV, sheenAlbedoL );
 
 		irradiance *= sheenEnergyComp;
 
 	#endif
	vec3 specularBRDF = BRDF_GGX( directLight.direction, geometryViewDir, geometryNormal, material );
	#ifdef USE_RETROREFLECTION
		vec3 retroViewDir = reflect( - geometryViewDir, geometryNormal );
		vec3 retroSpecularBRDF = BRDF_GGX( directLight.direction, retroViewDir, geometryNormal, material );
		specularBRDF = mix( specularBRDF, retroSpecularBRDF, saturate( material.retroreflectivity ) );
	#endif
	reflectedLight.directSpecular += irradiance * specularBRDF * material.multiScatteringCompensation;
	vec3 halfDir = normalize( directLight.direction + geometryViewDir );
	float dotVH = saturate( dot( geometryViewDir, halfDir ) );
	vec3 F = F_Schlick( material.specularColor, material.specularF90, dotVH );
	#ifdef USE_RETROREFLECTION
		vec3 retroHalfDir = normalize( directLight.direction + retroViewDir );
		float dotRetroVH = saturate( dot( retroViewDir, retroHalfDir ) );
		vec3 retroF = F_Schlick( material.specularColor, material.specularF90, dotRetroVH );
		F = mix( F, retroF, saturate( material.retroreflectivity ) );
	#endif
	#ifdef USE_DIFFUSE_ROUGHNESS
		vec3 diffuseBRDF = BRDF_EON( directLight.direction, geometryViewDir, geometryNormal, material.diffuseColor, material.diffuseRoughness ) * ( 1.0 - material.metalness );
	#else
		vec3 diffuseBRDF = BRDF_Lambert( material.diffuseContribution );
	#endif
	reflectedLight.directDiffuse += irradiance * diffuseBRDF * ( 1.0 - F );
}
void RE_IndirectDiffuse_Physical( const in vec3 irradiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight ) {
	vec3 singleScattering = vec3( 0.0 );
	vec3 multiScattering = vec3( 0.0 );
	#ifdef USE_IRIDESCENCE
		computeMultiscatteringIridescence( material.dfg, material.specularColor, material.specularF90, material.iridescence, material.iridescenceF0Dielectric, singleScattering, multiScattering );
	#else
		computeMultiscattering( material.dfg, material.specularColor, material.specularF90, singleScattering, multiScattering );
	#endif
	#ifdef USE_DIFFUSE_ROUGHNESS
		float dotNV = saturate( dot( geometryNormal, geometryViewDir ) );
		vec3 diffuseAlbedo = EON_DirectionalAlbedo( material.diffuseColor, material.diffuseRoughness, dotNV ) * ( 1.0 - material.metalness );
		vec3 diffuse = irradiance * RECIPROCAL_PI * diffuseAlbedo * ( 1.0 - singleScattering - multiScattering );
	#else
		vec3 diffuse = irradiance * BRDF_Lambert( material.diffuseContribution ) * ( 1.0 - singleScattering - multiScattering );
	#endif
	#ifdef USE_SHEEN
		float sheenAlbedo = IBLSheenBRDF( geometryNormal, geometryViewDir, material.sheenRoughness );
		sheenSpecularIndirect += irradiance * material.sheenColor * sheenAlbedo * RECIPROCAL_PI;
		float sheenEnergyComp = 1.0 - max3( material.sheenColor ) * sheenAlbedo;
		diffuse *= sheenEnergyComp;
	#endif
	reflectedLight.indirectDiffuse += diffuse;
}
void RE_IndirectSpecular_Physical( const in vec3 radiance, const in vec3 irradiance, const in vec3 clearcoatRadiance, const in vec3 geometryPosition, const in vec3 geometryNormal, const in vec3 geometryViewDir, const in vec3 geometryClearcoatNormal, const in PhysicalMaterial material, inout ReflectedLight reflectedLight) {
	#ifdef USE_CLEARCOAT
		clearcoatSpecularIndirect += clearcoatRadiance * EnvironmentBRDF( geometryClearcoatNormal, geometryViewDir, material.clearcoatF0, material.clearcoatF90, material.clearcoatRoughness );
	#endif
	#ifdef USE_SHEEN
		sheenSpecularIndirect += irradiance * material.sheenColor * IBLSheenBRDF( geometryNormal, geometryViewDir, material.sheenRoughness ) * RECIPROCAL_PI;
 	#endif
	vec3 singleScatteringDielectric = vec3( 0.0 );
	vec3 multiScatteringDielectric = vec3( 0.0 );
	vec3 singleScatteringMetallic = vec3( 0.0 );
	vec3 multiScatteringMetallic = vec3( 0.0 );
	#ifdef USE_IRIDESCENCE
		computeMultiscatteringIridescence( material.dfg, material.specularColor, material.specularF90, material.iridescence, material.iridescenceF0Dielectric, singleScatteringDielectric, multiScatteringDielectric );
		computeMultiscatteringIridescence( material.dfg, material.diffuseColor, material.specularF90, material.iridescence, material.iridescenceF0Metallic, singleScatteringMetallic, multiScatteringMetallic );
	#else
		computeMultiscattering( material.dfg, material.specularColor, material.specularF90, singleScatteringDielectric, multiScatteringDielectric );
		computeMultiscattering( material.dfg, material.diffuseColor, material.specularF90, singleScatteringMetallic, multiScatteringMetallic );
	#endif
	vec3 singleScattering = mix( singleScatteringDielectric, singleScatteringMetallic, material.metalness );
	vec3 multiScattering = mix( multiScatteringDielectric, multiScatteringMetallic, material.metalness );
	vec3 totalScatteringDielectric = singleScatteringDielectric + multiScatteringDielectric;
	#ifdef USE_DIFFUSE_ROUGHNESS
		float dotNV = saturate( dot( geometryNormal, geometryViewDir ) );
		vec3 diffuse = EON_DirectionalAlbedo( material.diffuseColor, material.diffuseRoughness, dotNV ) * ( 1.0 - material.metalness ) * ( 1.0 - totalScatteringDielectric );
	#else
		vec3 diffuse = material.diffuseContribution * ( 1.0 - totalScatteringDielectric );
	#endif
	vec3 cosineWeightedIrradiance = irradiance * RECIPROCAL_PI;
	vec3 indirectSpecular = radiance * singleScattering;
	indirectSpecular += multiScattering * cosineWeightedIrradiance;
	vec3 indirectDiffuse = diffuse * cosineWeightedIrradiance;
	#ifdef USE_SHEEN
		float sheenAlbedo = IBLSheenBRDF( geometryNormal, geometryViewDir, material.sheenRoughness );
		float sheenEnergyComp = 1.0 - max3( material.sheenColor ) * sheenAlbedo;
		indirectSpecular *= sheenEnergyComp;
		indirectDiffuse *= sheenEnergyComp;
	#endif
	reflectedLight.indirectSpecular += indirectSpecular;
	reflectedLight.indirectDiffuse += indirectDiffuse;
}
#define RE_Direct				RE_Direct_Physical
#define RE_Direct_RectArea		RE_Direct_RectArea_Physical
#define RE_IndirectDiffuse		RE_IndirectDiffuse_Physical
#define RE_IndirectSpecular		RE_IndirectSpecular_Physical
float computeSpecularOcclusion( const in float dotNV, const in float ambientOcclusion, const in float roughness ) {
	return saturate( pow( dotNV + ambientOcclusion, exp2( - 16.0 * roughness - 1.0 ) ) - 1.0 + ambientOcclusion );
}`,lights_fragment_begin:`
vec3 geometryPosition = - vViewPosition;
vec3 geometryNormal = normal;
vec3 geometryViewDir = ( isOrthographic ) ? vec3( 0, 0, 1 ) : normalize( vViewPosition );
vec3 geometryClearcoatNormal = vec3( 0.0 );
#ifdef USE_CLEARCOAT
	geometryClearcoatNormal = clearcoatNormal;
#endif
#ifdef USE_IRIDESCENCE
	float dotNVi = saturate( dot( normal, geometryViewDir ) );
	if ( material.iridescenceThickness == 0.0 ) {
		material.iridescence = 0.0;
	} else {
		material.iridescence = saturate( material.iridescence );
	}
	if ( material.iridescence > 0.0 ) {
		vec3 iridescenceFresnelDielectric = evalIridescence( 1.0, material.iridescenceIOR, dotNVi, material.iridescenceThickness, material.specularColor );
		vec3 iridescenceFresnelMetallic = evalIridescence( 1.0, material.iridescenceIOR, dotNVi, material.iridescenceThickness, material.diffuseColor );
		material.iridescenceFresnel = mix( iridescenceFresnelDielectric, iridescenceFresnelMetallic, material.metalness );
		material.iridescenceF0Dielectric = Schlick_to_F0( iridescenceFresnelDielectric, 1.0, dotNVi );
		material.iridescenceF0Metallic = Schlick_to_F0( iridescenceFresnelMetallic, 1.0, dotNVi );
	}
#endif
#ifdef STANDARD
	float dotNVms = saturate( dot( geometryNormal, geometryViewDir ) );
	material.dfg = texture2D( dfgLUT, vec2( material.roughness, dotNVms ) ).rg;
	#if ( NUM_SUN_LIGHTS > 0 || NUM_DIR_LIGHTS > 0 || NUM_POINT_LIGHTS > 0 || NUM_SPOT_LIGHTS > 0 )
		float EssMs = material.dfg.x + material.dfg.y;
		material.multiScatteringCompensation = 1.0 + material.specularColorBlended * ( 1.0 / EssMs - 1.0 );
	#endif
#endif
IncidentLight directLight;
#if ( NUM_POINT_LIGHTS > 0 ) && defined( RE_Direct )
	PointLight pointLight;
	#if defined( USE_SHADOWMAP ) && NUM_POINT_LIGHT_SHADOWS > 0
	PointLightShadow pointLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_POINT_LIGHTS; i ++ ) {
		pointLight = pointLights[ i ];
		getPointLightInfo( pointLight, geometryPosition, directLight );
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_POINT_LIGHT_SHADOWS ) && ( defined( SHADOWMAP_TYPE_PCF ) || defined( SHADOWMAP_TYPE_BASIC ) )
		pointLightShadow = pointLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getPointShadow( pointShadowMap[ i ], pointLightShadow.shadowMapSize, pointLightShadow.shadowIntensity, pointLightShadow.shadowBias, pointLightShadow.shadowRadius, vPointShadowCoord[ i ], pointLightShadow.shadowCameraNear, pointLightShadow.shadowCameraFar ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_SPOT_LIGHTS > 0 ) && defined( RE_Direct )
	SpotLight spotLight;
	vec4 spotColor;
	vec3 spotLightCoord;
	bool inSpotLightMap;
	#if defined( USE_SHADOWMAP ) && NUM_SPOT_LIGHT_SHADOWS > 0
	SpotLightShadow spotLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SPOT_LIGHTS; i ++ ) {
		spotLight = spotLights[ i ];
		getSpotLightInfo( spotLight, geometryPosition, directLight );
		#if ( UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS_WITH_MAPS )
		#define SPOT_LIGHT_MAP_INDEX UNROLLED_LOOP_INDEX
		#elif ( UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS )
		#define SPOT_LIGHT_MAP_INDEX NUM_SPOT_LIGHT_MAPS
		#else
		#define SPOT_LIGHT_MAP_INDEX ( UNROLLED_LOOP_INDEX - NUM_SPOT_LIGHT_SHADOWS + NUM_SPOT_LIGHT_SHADOWS_WITH_MAPS )
		#endif
		#if ( SPOT_LIGHT_MAP_INDEX < NUM_SPOT_LIGHT_MAPS )
			spotLightCoord = vSpotLightCoord[ i ].xyz / vSpotLightCoord[ i ].w;
			inSpotLightMap = all( lessThan( abs( spotLightCoord * 2. - 1. ), vec3( 1.0 ) ) );
			spotColor = texture2D( spotLightMap[ SPOT_LIGHT_MAP_INDEX ], spotLightCoord.xy );
			directLight.color = inSpotLightMap ? directLight.color * spotColor.rgb : directLight.color;
		#endif
		#undef SPOT_LIGHT_MAP_INDEX
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS )
		spotLightShadow = spotLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getShadow( spotShadowMap[ i ], spotLightShadow.shadowMapSize, spotLightShadow.shadowIntensity, spotLightShadow.shadowBias, spotLightShadow.shadowRadius, vSpotLightCoord[ i ] ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_SUN_LIGHTS > 0 ) && defined( RE_Direct )
	SunLight sunLight;
	#if defined( USE_SHADOWMAP ) && NUM_SUN_LIGHT_SHADOWS > 0
	SunLightShadow sunLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SUN_LIGHTS; i ++ ) {
		sunLight = sunLights[ i ];
		getSunLightInfo( sunLight, directLight );
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_SUN_LIGHT_SHADOWS )
		sunLightShadow = sunLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getSunShadow( sunShadowMap[ i ], sunLightShadow, UNROLLED_LOOP_INDEX ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_DIR_LIGHTS > 0 ) && defined( RE_Direct )
	DirectionalLight directionalLight;
	#if defined( USE_SHADOWMAP ) && NUM_DIR_LIGHT_SHADOWS > 0
	DirectionalLightShadow directionalLightShadow;
	#endif
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_DIR_LIGHTS; i ++ ) {
		directionalLight = directionalLights[ i ];
		getDirectionalLightInfo( directionalLight, directLight );
		#if defined( USE_SHADOWMAP ) && ( UNROLLED_LOOP_INDEX < NUM_DIR_LIGHT_SHADOWS )
		directionalLightShadow = directionalLightShadows[ i ];
		directLight.color *= ( directLight.visible && receiveShadow ) ? getShadow( directionalShadowMap[ i ], directionalLightShadow.shadowMapSize, directionalLightShadow.shadowIntensity, directionalLightShadow.shadowBias, directionalLightShadow.shadowRadius, vDirectionalShadowCoord[ i ] ) : 1.0;
		#endif
		RE_Direct( directLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if ( NUM_RECT_AREA_LIGHTS > 0 ) && defined( RE_Direct_RectArea )
	RectAreaLight rectAreaLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_RECT_AREA_LIGHTS; i ++ ) {
		rectAreaLight = rectAreaLights[ i ];
		RE_Direct_RectArea( rectAreaLight, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
	}
	#pragma unroll_loop_end
#endif
#if defined( RE_IndirectDiffuse )
	vec3 iblIrradiance = vec3( 0.0 );
	vec3 irradiance = getAmbientLightIrradiance( ambientLightColor );
	#if defined( USE_LIGHT_PROBES )
		irradiance += getLightProbeIrradiance( lightProbe, geometryNormal );
	#endif
	#if ( NUM_HEMI_LIGHTS > 0 )
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_HEMI_LIGHTS; i ++ ) {
			irradiance += getHemisphereLightIrradiance( hemisphereLights[ i ], geometryNormal );
		}
		#pragma unroll_loop_end
	#endif
	#if NUM_LIGHT_PROBE_GRIDS > 0
		vec3 probeWorldPos = ( ( vec4( geometryPosition, 1.0 ) - viewMatrix[ 3 ] ) * viewMatrix ).xyz;
		vec3 probeWorldNormal = transformNormalByInverseViewMatrix( geometryNormal, viewMatrix );
		int probeGrid = - 1;
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_LIGHT_PROBE_GRIDS; i ++ ) {
			if ( isInsideLightProbeGrid( probeWorldPos, probeWorldNormal, probesMin[ i ], probesMax[ i ], probesResolution[ i ] ) ) probeGrid = UNROLLED_LOOP_INDEX;
		}
		#pragma unroll_loop_end
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_LIGHT_PROBE_GRIDS; i ++ ) {
			if ( probeGrid == UNROLLED_LOOP_INDEX ) irradiance += getLightProbeGridIrradiance( probesSH[ i ], probesMin[ i ], probesMax[ i ], probesResolution[ i ], probeWorldPos, probeWorldNormal );
		}
		#pragma unroll_loop_end
	#endif
#endif
#if defined( RE_IndirectSpecular )
	vec3 radiance = vec3( 0.0 );
	vec3 clearcoatRadiance = vec3( 0.0 );
#endif`,lights_fragment_maps:`#if defined( RE_IndirectDiffuse )
	#ifdef USE_LIGHTMAP
		vec4 lightMapTexel = texture2D( lightMap, vLightMapUv );
		vec3 lightMapIrradiance = lightMapTexel.rgb * lightMapIntensity;
		irradiance += lightMapIrradiance;
	#endif
	#if defined( USE_ENVMAP ) && defined( ENVMAP_TYPE_PMREM )
		#if defined( STANDARD ) || defined( LAMBERT ) || defined( PHONG )
			iblIrradiance += getIBLIrradiance( geometryNormal );
		#endif
	#endif
#endif
#if defined( USE_ENVMAP ) && defined( RE_IndirectSpecular )
	#ifdef USE_ANISOTROPY
		vec3 iblRadiance = getIBLAnisotropyRadiance( geometryViewDir, geometryNormal, material.roughness, material.anisotropyB, material.anisotropy );
	#else
		vec3 iblRadiance = getIBLRadiance( geometryViewDir, geometryNormal, material.roughness );
	#endif
	#ifdef USE_RETROREFLECTION
		#ifdef USE_ANISOTROPY
			vec3 retroIBLRadiance = getIBLAnisotropyRetroRadiance( geometryViewDir, geometryNormal, material.roughness, material.anisotropyB, material.anisotropy );
		#else
			vec3 retroIBLRadiance = getIBLRetroRadiance( geometryViewDir, geometryNormal, material.roughness );
		#endif
		iblRadiance = mix( iblRadiance, retroIBLRadiance, saturate( material.retroreflectivity ) );
	#endif
	radiance += iblRadiance;
	#ifdef USE_CLEARCOAT
		clearcoatRadiance += getIBLRadiance( geometryViewDir, geometryClearcoatNormal, material.clearcoatRoughness );
	#endif
#endif`,lights_fragment_end:`#if defined( RE_IndirectDiffuse )
	#if defined( LAMBERT ) || defined( PHONG )
		irradiance += iblIrradiance;
	#endif
	RE_IndirectDiffuse( irradiance, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
#endif
#if defined( RE_IndirectSpecular )
	RE_IndirectSpecular( radiance, iblIrradiance, clearcoatRadiance, geometryPosition, geometryNormal, geometryViewDir, geometryClearcoatNormal, material, reflectedLight );
#endif`,lightprobes_pars_fragment:`#if NUM_LIGHT_PROBE_GRIDS > 0
uniform highp sampler3D probesSH[ NUM_LIGHT_PROBE_GRIDS ];
uniform vec3 probesMin[ NUM_LIGHT_PROBE_GRIDS ];
uniform vec3 probesMax[ NUM_LIGHT_PROBE_GRIDS ];
uniform vec3 probesResolution[ NUM_LIGHT_PROBE_GRIDS ];
bool isInsideLightProbeGrid( vec3 worldPos, vec3 worldNormal, vec3 probesMin, vec3 probesMax, vec3 probesResolution ) {
	vec3 spacing = ( probesMax - probesMin ) / probesResolution;
	vec3 samplePos = worldPos + worldNormal * spacing * 0.5;
	vec3 margin = spacing * 0.01;
	return all( greaterThanEqual( samplePos, probesMin - margin ) ) && all( lessThanEqual( samplePos, probesMax + margin ) );
}
vec3 getLightProbeGridIrradiance( highp sampler3D probesSH, vec3 probesMin, vec3 probesMax, vec3 probesResolution, vec3 worldPos, vec3 worldNormal ) {
	vec3 res = probesResolution;
	vec3 gridRange = probesMax - probesMin;
	vec3 probeSpacing = gridRange / res;
	vec3 samplePos = worldPos + worldNormal * probeSpacing * 0.5;
	vec3 uvw = clamp( ( samplePos - probesMin ) / gridRange, 0.5 / res, 1.0 - 0.5 / res );
	float nz          = res.z;
	float paddedSlices = nz + 2.0;
	float atlasDepth  = 7.0 * paddedSlices;
	float uvZBase     = uvw.z * nz + 1.0;
	vec4 s0 = texture( probesSH, vec3( uvw.xy, ( uvZBase                       ) / atlasDepth ) );
	vec4 s1 = texture( probesSH, vec3( uvw.xy, ( uvZBase +       paddedSlices   ) / atlasDepth ) );
	vec4 s2 = texture( probesSH, vec3( uvw.xy, ( uvZBase + 2.0 * paddedSlices   ) / atlasDepth ) );
	vec4 s3 = texture( probesSH, vec3( uvw.xy, ( uvZBase + 3.0 * paddedSlices   ) / atlasDepth ) );
	vec4 s4 = texture( probesSH, vec3( uvw.xy, ( uvZBase + 4.0 * paddedSlices   ) / atlasDepth ) );
	vec4 s5 = texture( probesSH, vec3( uvw.xy, ( uvZBase + 5.0 * paddedSlices   ) / atlasDepth ) );
	vec4 s6 = texture( probesSH, vec3( uvw.xy, ( uvZBase + 6.0 * paddedSlices   ) / atlasDepth ) );
	vec3 c0 = s0.xyz;
	vec3 c1 = vec3( s0.w, s1.xy );
	vec3 c2 = vec3( s1.zw, s2.x );
	vec3 c3 = s2.yzw;
	vec3 c4 = s3.xyz;
	vec3 c5 = vec3( s3.w, s4.xy );
	vec3 c6 = vec3( s4.zw, s5.x );
	vec3 c7 = s5.yzw;
	vec3 c8 = s6.xyz;
	float x = worldNormal.x, y = worldNormal.y, z = worldNormal.z;
	vec3 result = c0 * 0.886227;
	result += c1 * 2.0 * 0.511664 * y;
	result += c2 * 2.0 * 0.511664 * z;
	result += c3 * 2.0 * 0.511664 * x;
	result += c4 * 2.0 * 0.429043 * x * y;
	result += c5 * 2.0 * 0.429043 * y * z;
	result += c6 * ( 0.743125 * z * z - 0.247708 );
	result += c7 * 2.0 * 0.429043 * x * z;
	result += c8 * 0.429043 * ( x * x - y * y );
	return max( result, vec3( 0.0 ) );
}
#endif`,logdepthbuf_fragment:`#if defined( USE_LOGARITHMIC_DEPTH_BUFFER )
	gl_FragDepth = vIsPerspective == 0.0 ? gl_FragCoord.z : log2( vFragDepth ) * logDepthBufFC * 0.5;
#endif`,logdepthbuf_pars_fragment:`#if defined( USE_LOGARITHMIC_DEPTH_BUFFER )
	uniform float logDepthBufFC;
	varying float vFragDepth;
	varying float vIsPerspective;
#endif`,logdepthbuf_pars_vertex:`#ifdef USE_LOGARITHMIC_DEPTH_BUFFER
	varying float vFragDepth;
	varying float vIsPerspective;
#endif`,logdepthbuf_vertex:`#ifdef USE_LOGARITHMIC_DEPTH_BUFFER
	vFragDepth = 1.0 + gl_Position.w;
	vIsPerspective = float( isPerspectiveMatrix( projectionMatrix ) );
#endif`,map_fragment:`#ifdef USE_MAP
	vec4 sampledDiffuseColor = texture2D( map, vMapUv );
	#ifdef DECODE_VIDEO_TEXTURE
		sampledDiffuseColor = sRGBTransferEOTF( sampledDiffuseColor );
	#endif
	diffuseColor *= sampledDiffuseColor;
#endif`,map_pars_fragment:`#ifdef USE_MAP
	uniform sampler2D map;
#endif`,map_particle_fragment:`#if defined( USE_MAP ) || defined( USE_ALPHAMAP )
	#if defined( USE_POINTS_UV )
		vec2 uv = vUv;
	#else
		vec2 uv = ( uvTransform * vec3( gl_PointCoord.x, 1.0 - gl_PointCoord.y, 1 ) ).xy;
	#endif
#endif
#ifdef USE_MAP
	diffuseColor *= texture2D( map, uv );
#endif
#ifdef USE_ALPHAMAP
	diffuseColor.a *= texture2D( alphaMap, uv ).g;
#endif`,map_particle_pars_fragment:`#if defined( USE_POINTS_UV )
	varying vec2 vUv;
#else
	#if defined( USE_MAP ) || defined( USE_ALPHAMAP )
		uniform mat3 uvTransform;
	#endif
#endif
#ifdef USE_MAP
	uniform sampler2D map;
#endif
#ifdef USE_ALPHAMAP
	uniform sampler2D alphaMap;
#endif`,metalnessmap_fragment:`float metalnessFactor = metalness;
#ifdef USE_METALNESSMAP
	vec4 texelMetalness = texture2D( metalnessMap, vMetalnessMapUv );
	metalnessFactor *= texelMetalness.b;
#endif`,metalnessmap_pars_fragment:`#ifdef USE_METALNESSMAP
	uniform sampler2D metalnessMap;
#endif`,morphinstance_vertex:`#ifdef USE_INSTANCING_MORPH
	float morphTargetInfluences[ MORPHTARGETS_COUNT ];
	float morphTargetBaseInfluence = texelFetch( morphTexture, ivec2( 0, gl_InstanceID ), 0 ).r;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		morphTargetInfluences[i] =  texelFetch( morphTexture, ivec2( i + 1, gl_InstanceID ), 0 ).r;
	}
#endif`,morphcolor_vertex:`#if defined( USE_MORPHCOLORS )
	#if defined( USE_COLOR_ALPHA )
		vColor *= morphTargetBaseInfluence;
	#elif defined( USE_COLOR )
		vColor.rgb *= morphTargetBaseInfluence;
	#endif
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		#if defined( USE_COLOR_ALPHA )
			if ( morphTargetInfluences[ i ] != 0.0 ) vColor += getMorph( gl_VertexID, i, 2 ) * morphTargetInfluences[ i ];
		#elif defined( USE_COLOR )
			if ( morphTargetInfluences[ i ] != 0.0 ) vColor.rgb += getMorph( gl_VertexID, i, 2 ).rgb * morphTargetInfluences[ i ];
		#endif
	}
#endif`,morphnormal_vertex:`#ifdef USE_MORPHNORMALS
	objectNormal *= morphTargetBaseInfluence;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		if ( morphTargetInfluences[ i ] != 0.0 ) objectNormal += getMorph( gl_VertexID, i, 1 ).xyz * morphTargetInfluences[ i ];
	}
#endif`,morphtarget_pars_vertex:`#ifdef USE_MORPHTARGETS
	#ifndef USE_INSTANCING_MORPH
		uniform float morphTargetBaseInfluence;
		uniform float morphTargetInfluences[ MORPHTARGETS_COUNT ];
	#endif
	uniform sampler2DArray morphTargetsTexture;
	uniform ivec2 morphTargetsTextureSize;
	vec4 getMorph( const in int vertexIndex, const in int morphTargetIndex, const in int offset ) {
		int texelIndex = vertexIndex * MORPHTARGETS_TEXTURE_STRIDE + offset;
		int y = texelIndex / morphTargetsTextureSize.x;
		int x = texelIndex - y * morphTargetsTextureSize.x;
		ivec3 morphUV = ivec3( x, y, morphTargetIndex );
		return texelFetch( morphTargetsTexture, morphUV, 0 );
	}
#endif`,morphtarget_vertex:`#ifdef USE_MORPHTARGETS
	transformed *= morphTargetBaseInfluence;
	for ( int i = 0; i < MORPHTARGETS_COUNT; i ++ ) {
		if ( morphTargetInfluences[ i ] != 0.0 ) transformed += getMorph( gl_VertexID, i, 0 ).xyz * morphTargetInfluences[ i ];
	}
#endif`,normal_fragment_begin:`float faceDirection = gl_FrontFacing ? 1.0 : - 1.0;
#ifdef FLAT_SHADED
	vec3 fdx = dFdx( vViewPosition );
	vec3 fdy = dFdy( vViewPosition );
	vec3 normal = normalize( cross( fdx, fdy ) );
#else
	vec3 normal = normalize( vNormal );
	#ifdef DOUBLE_SIDED
		normal *= faceDirection;
	#endif
#endif
#if defined( USE_NORMALMAP_TANGENTSPACE ) || defined( USE_CLEARCOAT_NORMALMAP ) || defined( USE_ANISOTROPY )
	#ifdef USE_TANGENT
		mat3 tbn = mat3( normalize( vTangent ), normalize( vBitangent ), normal );
	#else
		mat3 tbn = getTangentFrame( - vViewPosition, normal,
		#if defined( USE_NORMALMAP )
			vNormalMapUv
		#elif defined( USE_CLEARCOAT_NORMALMAP )
			vClearcoatNormalMapUv
		#else
			vUv
		#endif
		);
	#endif
	#ifdef DOUBLE_SIDED
		tbn[0] *= faceDirection;
		tbn[1] *= faceDirection;
	#endif
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	#ifdef USE_TANGENT
		mat3 tbn2 = mat3( normalize( vTangent ), normalize( vBitangent ), normal );
	#else
		mat3 tbn2 = getTangentFrame( - vViewPosition, normal, vClearcoatNormalMapUv );
	#endif
	#ifdef DOUBLE_SIDED
		tbn2[0] *= faceDirection;
		tbn2[1] *= faceDirection;
	#endif
#endif
vec3 nonPerturbedNormal = normal;`,normal_fragment_maps:`#ifdef USE_NORMALMAP_OBJECTSPACE
	normal = texture2D( normalMap, vNormalMapUv ).xyz * 2.0 - 1.0;
	#ifdef FLIP_SIDED
		normal = - normal;
	#endif
	#ifdef DOUBLE_SIDED
		normal = normal * faceDirection;
	#endif
	normal = normalize( normalMatrix * normal );
#elif defined( USE_NORMALMAP_TANGENTSPACE )
	vec3 mapN = texture2D( normalMap, vNormalMapUv ).xyz * 2.0 - 1.0;
	#if defined( USE_PACKED_NORMALMAP )
		mapN = vec3( mapN.xy, sqrt( saturate( 1.0 - dot( mapN.xy, mapN.xy ) ) ) );
	#endif
	mapN.xy *= normalScale;
	normal = normalize( tbn * mapN );
#elif defined( USE_BUMPMAP )
	normal = perturbNormalArb( - vViewPosition, normal, dHdxy_fwd(), faceDirection );
#endif`,normal_pars_fragment:`#ifndef FLAT_SHADED
	varying vec3 vNormal;
	#ifdef USE_TANGENT
		varying vec3 vTangent;
		varying vec3 vBitangent;
	#endif
#endif`,normal_pars_vertex:`#ifndef FLAT_SHADED
	varying vec3 vNormal;
	#ifdef USE_TANGENT
		varying vec3 vTangent;
		varying vec3 vBitangent;
	#endif
#endif`,normal_vertex:`#ifndef FLAT_SHADED
	vNormal = normalize( transformedNormal );
	#ifdef USE_TANGENT
		vTangent = normalize( transformedTangent );
		vBitangent = normalize( cross( vNormal, vTangent ) * tangent.w );
		#ifdef FLIP_SIDED
			vBitangent = - vBitangent;
		#endif
	#endif
#endif`,normalmap_pars_fragment:`#ifdef USE_NORMALMAP
	uniform sampler2D normalMap;
	uniform vec2 normalScale;
#endif
#ifdef USE_NORMALMAP_OBJECTSPACE
	uniform mat3 normalMatrix;
#endif
#if ! defined ( USE_TANGENT ) && ( defined ( USE_NORMALMAP_TANGENTSPACE ) || defined ( USE_CLEARCOAT_NORMALMAP ) || defined( USE_ANISOTROPY ) )
	mat3 getTangentFrame( vec3 eye_pos, vec3 surf_norm, vec2 uv ) {
		vec3 q0 = dFdx( eye_pos.xyz );
		vec3 q1 = dFdy( eye_pos.xyz );
		vec2 st0 = dFdx( uv.st );
		vec2 st1 = dFdy( uv.st );
		vec3 N = surf_norm;
		vec3 q1perp = cross( q1, N );
		vec3 q0perp = cross( N, q0 );
		vec3 T = q1perp * st0.x + q0perp * st1.x;
		vec3 B = q1perp * st0.y + q0perp * st1.y;
		float det = max( dot( T, T ), dot( B, B ) );
		float scale = ( det == 0.0 ) ? 0.0 : inversesqrt( det );
		return mat3( T * scale, B * scale, N );
	}
#endif`,clearcoat_normal_fragment_begin:`#ifdef USE_CLEARCOAT
	vec3 clearcoatNormal = nonPerturbedNormal;
#endif`,clearcoat_normal_fragment_maps:`#ifdef USE_CLEARCOAT_NORMALMAP
	vec3 clearcoatMapN = texture2D( clearcoatNormalMap, vClearcoatNormalMapUv ).xyz * 2.0 - 1.0;
	clearcoatMapN.xy *= clearcoatNormalScale;
	clearcoatNormal = normalize( tbn2 * clearcoatMapN );
#endif`,clearcoat_pars_fragment:`#ifdef USE_CLEARCOATMAP
	uniform sampler2D clearcoatMap;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	uniform sampler2D clearcoatNormalMap;
	uniform vec2 clearcoatNormalScale;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	uniform sampler2D clearcoatRoughnessMap;
#endif`,iridescence_pars_fragment:`#ifdef USE_IRIDESCENCEMAP
	uniform sampler2D iridescenceMap;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	uniform sampler2D iridescenceThicknessMap;
#endif`,opaque_fragment:`#ifdef OPAQUE
diffuseColor.a = 1.0;
#endif
#ifdef USE_TRANSMISSION
diffuseColor.a *= material.transmissionAlpha;
#endif
gl_FragColor = vec4( outgoingLight, diffuseColor.a );`,packing:`vec3 packNormalToRGB( const in vec3 normal ) {
	return normalize( normal ) * 0.5 + 0.5;
}
vec3 unpackRGBToNormal( const in vec3 rgb ) {
	return 2.0 * rgb.xyz - 1.0;
}
const float PackUpscale = 256. / 255.;const float UnpackDownscale = 255. / 256.;const float ShiftRight8 = 1. / 256.;
const float Inv255 = 1. / 255.;
const vec4 PackFactors = vec4( 1.0, 256.0, 256.0 * 256.0, 256.0 * 256.0 * 256.0 );
const vec2 UnpackFactors2 = vec2( UnpackDownscale, 1.0 / PackFactors.g );
const vec3 UnpackFactors3 = vec3( UnpackDownscale / PackFactors.rg, 1.0 / PackFactors.b );
const vec4 UnpackFactors4 = vec4( UnpackDownscale / PackFactors.rgb, 1.0 / PackFactors.a );
vec4 packDepthToRGBA( const in float v ) {
	if( v <= 0.0 )
		return vec4( 0., 0., 0., 0. );
	if( v >= 1.0 )
		return vec4( 1., 1., 1., 1. );
	float vuf;
	float af = modf( v * PackFactors.a, vuf );
	float bf = modf( vuf * ShiftRight8, vuf );
	float gf = modf( vuf * ShiftRight8, vuf );
	return vec4( vuf * Inv255, gf * PackUpscale, bf * PackUpscale, af );
}
vec3 packDepthToRGB( const in float v ) {
	if( v <= 0.0 )
		return vec3( 0., 0., 0. );
	if( v >= 1.0 )
		return vec3( 1., 1., 1. );
	float vuf;
	float bf = modf( v * PackFactors.b, vuf );
	float gf = modf( vuf * ShiftRight8, vuf );
	return vec3( vuf * Inv255, gf * PackUpscale, bf );
}
vec2 packDepthToRG( const in float v ) {
	if( v <= 0.0 )
		return vec2( 0., 0. );
	if( v >= 1.0 )
		return vec2( 1., 1. );
	float vuf;
	float gf = modf( v * 256., vuf );
	return vec2( vuf * Inv255, gf );
}
float unpackRGBAToDepth( const in vec4 v ) {
	return dot( v, UnpackFactors4 );
}
float unpackRGBToDepth( const in vec3 v ) {
	return dot( v, UnpackFactors3 );
}
float unpackRGToDepth( const in vec2 v ) {
	return v.r * UnpackFactors2.r + v.g * UnpackFactors2.g;
}
vec4 pack2HalfToRGBA( const in vec2 v ) {
	vec4 r = vec4( v.x, fract( v.x * 255.0 ), v.y, fract( v.y * 255.0 ) );
	return vec4( r.x - r.y / 255.0, r.y, r.z - r.w / 255.0, r.w );
}
vec2 unpackRGBATo2Half( const in vec4 v ) {
	return vec2( v.x + ( v.y / 255.0 ), v.z + ( v.w / 255.0 ) );
}
float viewZToOrthographicDepth( const in float viewZ, const in float near, const in float far ) {
	return ( viewZ + near ) / ( near - far );
}
float orthographicDepthToViewZ( const in float depth, const in float near, const in float far ) {
	#ifdef USE_REVERSED_DEPTH_BUFFER
	
		return depth * ( far - near ) - far;
	#else
		return depth * ( near - far ) - near;
	#endif
}
float viewZToPerspectiveDepth( const in float viewZ, const in float near, const in float far ) {
	return ( ( near + viewZ ) * far ) / ( ( far - near ) * viewZ );
}
float perspectiveDepthToViewZ( const in float depth, const in float near, const in float far ) {
	
	#ifdef USE_REVERSED_DEPTH_BUFFER
		return ( near * far ) / ( ( near - far ) * depth - near );
	#else
		return ( near * far ) / ( ( far - near ) * depth - far );
	#endif
}`,premultiplied_alpha_fragment:`#ifdef PREMULTIPLIED_ALPHA
	gl_FragColor.rgb *= gl_FragColor.a;
#endif`,project_vertex:`vec4 mvPosition = vec4( transformed, 1.0 );
#ifdef USE_BATCHING
	mvPosition = batchingMatrix * mvPosition;
#endif
#ifdef USE_INSTANCING
	mvPosition = instanceMatrix * mvPosition;
#endif
mvPosition = modelViewMatrix * mvPosition;
gl_Position = projectionMatrix * mvPosition;`,dithering_fragment:`#ifdef DITHERING
	gl_FragColor.rgb = dithering( gl_FragColor.rgb );
#endif`,dithering_pars_fragment:`#ifdef DITHERING
	vec3 dithering( vec3 color ) {
		float grid_position = rand( gl_FragCoord.xy );
		vec3 dither_shift_RGB = vec3( 0.25 / 255.0, -0.25 / 255.0, 0.25 / 255.0 );
		dither_shift_RGB = mix( 2.0 * dither_shift_RGB, -2.0 * dither_shift_RGB, grid_position );
		return color + dither_shift_RGB;
	}
#endif`,roughnessmap_fragment:`float roughnessFactor = roughness;
#ifdef USE_ROUGHNESSMAP
	vec4 texelRoughness = texture2D( roughnessMap, vRoughnessMapUv );
	roughnessFactor *= texelRoughness.g;
#endif`,roughnessmap_pars_fragment:`#ifdef USE_ROUGHNESSMAP
	uniform sampler2D roughnessMap;
#endif`,shadowmap_pars_fragment:`#if NUM_SPOT_LIGHT_COORDS > 0
	varying vec4 vSpotLightCoord[ NUM_SPOT_LIGHT_COORDS ];
#endif
#if NUM_SPOT_LIGHT_MAPS > 0
	uniform sampler2D spotLightMap[ NUM_SPOT_LIGHT_MAPS ];
#endif
#ifdef USE_SHADOWMAP
	#if NUM_SUN_LIGHT_SHADOWS > 0
		#define SUN_LIGHT_CASCADES 2
		#if defined( SHADOWMAP_TYPE_PCF )
			uniform sampler2DShadow sunShadowMap[ NUM_SUN_LIGHT_SHADOWS ];
		#else
			uniform sampler2D sunShadowMap[ NUM_SUN_LIGHT_SHADOWS ];
		#endif
		uniform mat4 sunShadowMatrix[ NUM_SUN_LIGHT_SHADOWS * SUN_LIGHT_CASCADES ];
		uniform vec4 sunShadowCascade[ NUM_SUN_LIGHT_SHADOWS * SUN_LIGHT_CASCADES ];
		varying vec4 vSunShadowWorldPosition;
		varying vec3 vSunShadowWorldNormal;
		struct SunLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform SunLightShadow sunLightShadows[ NUM_SUN_LIGHT_SHADOWS ];
	#endif
	#if NUM_DIR_LIGHT_SHADOWS > 0
		#if defined( SHADOWMAP_TYPE_PCF )
			uniform sampler2DShadow directionalShadowMap[ NUM_DIR_LIGHT_SHADOWS ];
		#else
			uniform sampler2D directionalShadowMap[ NUM_DIR_LIGHT_SHADOWS ];
		#endif
		varying vec4 vDirectionalShadowCoord[ NUM_DIR_LIGHT_SHADOWS ];
		struct DirectionalLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform DirectionalLightShadow directionalLightShadows[ NUM_DIR_LIGHT_SHADOWS ];
	#endif
	#if NUM_SPOT_LIGHT_SHADOWS > 0
		#if defined( SHADOWMAP_TYPE_PCF )
			uniform sampler2DShadow spotShadowMap[ NUM_SPOT_LIGHT_SHADOWS ];
		#else
			uniform sampler2D spotShadowMap[ NUM_SPOT_LIGHT_SHADOWS ];
		#endif
		struct SpotLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform SpotLightShadow spotLightShadows[ NUM_SPOT_LIGHT_SHADOWS ];
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
		#if defined( SHADOWMAP_TYPE_PCF )
			uniform samplerCubeShadow pointShadowMap[ NUM_POINT_LIGHT_SHADOWS ];
		#elif defined( SHADOWMAP_TYPE_BASIC )
			uniform samplerCube pointShadowMap[ NUM_POINT_LIGHT_SHADOWS ];
		#endif
		varying vec4 vPointShadowCoord[ NUM_POINT_LIGHT_SHADOWS ];
		struct PointLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
			float shadowCameraNear;
			float shadowCameraFar;
		};
		uniform PointLightShadow pointLightShadows[ NUM_POINT_LIGHT_SHADOWS ];
	#endif
	#if defined( SHADOWMAP_TYPE_PCF )
		float interleavedGradientNoise( vec2 position ) {
			return fract( 52.9829189 * fract( dot( position, vec2( 0.06711056, 0.00583715 ) ) ) );
		}
		vec2 vogelDiskSample( int sampleIndex, int samplesCount, float phi ) {
			const float goldenAngle = 2.399963229728653;
			float r = sqrt( ( float( sampleIndex ) + 0.5 ) / float( samplesCount ) );
			float theta = float( sampleIndex ) * goldenAngle + phi;
			return vec2( cos( theta ), sin( theta ) ) * r;
		}
	#endif
	#if defined( SHADOWMAP_TYPE_PCF )
		float getShadow( sampler2DShadow shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord ) {
			float shadow = 1.0;
			shadowCoord.xyz /= shadowCoord.w;
			#ifdef USE_REVERSED_DEPTH_BUFFER
				shadowCoord.z -= shadowBias;
			#else
				shadowCoord.z += shadowBias;
			#endif
			bool inFrustum = shadowCoord.x >= 0.0 && shadowCoord.x <= 1.0 && shadowCoord.y >= 0.0 && shadowCoord.y <= 1.0;
			bool frustumTest = inFrustum && shadowCoord.z <= 1.0;
			if ( frustumTest ) {
				vec2 texelSize = vec2( 1.0 ) / shadowMapSize;
				vec2 radius = shadowRadius * texelSize;
				float phi = interleavedGradientNoise( gl_FragCoord.xy ) * PI2;
				shadow = (
					texture( shadowMap, vec3( shadowCoord.xy + vogelDiskSample( 0, 5, phi ) * radius, shadowCoord.z ) ) +
					texture( shadowMap, vec3( shadowCoord.xy + vogelDiskSample( 1, 5, phi ) * radius, shadowCoord.z ) ) +
					texture( shadowMap, vec3( shadowCoord.xy + vogelDiskSample( 2, 5, phi ) * radius, shadowCoord.z ) ) +
					texture( shadowMap, vec3( shadowCoord.xy + vogelDiskSample( 3, 5, phi ) * radius, shadowCoord.z ) ) +
					texture( shadowMap, vec3( shadowCoord.xy + vogelDiskSample( 4, 5, phi ) * radius, shadowCoord.z ) )
				) * 0.2;
			}
			return mix( 1.0, shadow, shadowIntensity );
		}
	#elif defined( SHADOWMAP_TYPE_VSM )
		float getShadow( sampler2D shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord ) {
			float shadow = 1.0;
			shadowCoord.xyz /= shadowCoord.w;
			#ifdef USE_REVERSED_DEPTH_BUFFER
				shadowCoord.z -= shadowBias;
			#else
				shadowCoord.z += shadowBias;
			#endif
			bool inFrustum = shadowCoord.x >= 0.0 && shadowCoord.x <= 1.0 && shadowCoord.y >= 0.0 && shadowCoord.y <= 1.0;
			bool frustumTest = inFrustum && shadowCoord.z <= 1.0;
			if ( frustumTest ) {
				vec2 distribution = texture2D( shadowMap, shadowCoord.xy ).rg;
				float mean = distribution.x;
				float variance = distribution.y * distribution.y;
				#ifdef USE_REVERSED_DEPTH_BUFFER
					float hard_shadow = step( mean, shadowCoord.z );
				#else
					float hard_shadow = step( shadowCoord.z, mean );
				#endif
				
				if ( hard_shadow == 1.0 ) {
					shadow = 1.0;
				} else {
					variance = max( variance, 0.0000001 );
					float d = shadowCoord.z - mean;
					float p_max = variance / ( variance + d * d );
					p_max = clamp( ( p_max - 0.3 ) / 0.65, 0.0, 1.0 );
					shadow = max( hard_shadow, p_max );
				}
			}
			return mix( 1.0, shadow, shadowIntensity );
		}
	#else
		float getShadow( sampler2D shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord ) {
			float shadow = 1.0;
			shadowCoord.xyz /= shadowCoord.w;
			#ifdef USE_REVERSED_DEPTH_BUFFER
				shadowCoord.z -= shadowBias;
			#else
				shadowCoord.z += shadowBias;
			#endif
			bool inFrustum = shadowCoord.x >= 0.0 && shadowCoord.x <= 1.0 && shadowCoord.y >= 0.0 && shadowCoord.y <= 1.0;
			bool frustumTest = inFrustum && shadowCoord.z <= 1.0;
			if ( frustumTest ) {
				float depth = texture2D( shadowMap, shadowCoord.xy ).r;
				#ifdef USE_REVERSED_DEPTH_BUFFER
					shadow = step( depth, shadowCoord.z );
				#else
					shadow = step( shadowCoord.z, depth );
				#endif
			}
			return mix( 1.0, shadow, shadowIntensity );
		}
	#endif
	#if NUM_SUN_LIGHT_SHADOWS > 0
		float getSunShadow(
			#if defined( SHADOWMAP_TYPE_PCF )
				sampler2DShadow shadowMap,
			#else
				sampler2D shadowMap,
			#endif
			SunLightShadow sunLightShadow,
			int shadowIndex
		) {
			vec4 shadowWorldPosition = vec4( vSunShadowWorldPosition.xyz + vSunShadowWorldNormal * sunLightShadow.shadowNormalBias, 1.0 );
			float viewDepth = vSunShadowWorldPosition.w;
			int cascadeOffset = shadowIndex * SUN_LIGHT_CASCADES;
			float shadow = 1.0;
			for ( int i = SUN_LIGHT_CASCADES - 1; i >= 0; i -- ) {
				vec4 cascade = sunShadowCascade[ cascadeOffset + i ];
				if ( viewDepth >= cascade.x && viewDepth < cascade.y ) {
					float cascadeShadow = getShadow(
						shadowMap,
						sunLightShadow.shadowMapSize,
						sunLightShadow.shadowIntensity,
						sunLightShadow.shadowBias,
						sunLightShadow.shadowRadius,
						sunShadowMatrix[ cascadeOffset + i ] * shadowWorldPosition
					);
					shadow = mix( cascadeShadow, shadow, smoothstep( cascade.z, cascade.y, viewDepth ) );
				}
			}
			return shadow;
		}
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
	#if defined( SHADOWMAP_TYPE_PCF )
	float getPointShadow( samplerCubeShadow shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord, float shadowCameraNear, float shadowCameraFar ) {
		float shadow = 1.0;
		vec3 lightToPosition = shadowCoord.xyz;
		vec3 bd3D = normalize( lightToPosition );
		vec3 absVec = abs( lightToPosition );
		float viewSpaceZ = max( max( absVec.x, absVec.y ), absVec.z );
		if ( viewSpaceZ - shadowCameraFar <= 0.0 && viewSpaceZ - shadowCameraNear >= 0.0 ) {
			float lightDistance = length( lightToPosition );
			float depthRange = shadowCameraFar - shadowCameraNear;
			#ifdef USE_REVERSED_DEPTH_BUFFER
				float depthA = - shadowCameraNear / depthRange - shadowBias;
				float depthB = shadowCameraNear * shadowCameraFar / ( depthRange * lightDistance );
			#else
				float depthA = shadowCameraFar / depthRange + shadowBias;
				float depthB = - shadowCameraNear * shadowCameraFar / ( depthRange * lightDistance );
			#endif
			float texelSize = shadowRadius / shadowMapSize.x;
			vec3 absDir = abs( bd3D );
			vec3 tangent = absDir.x > absDir.z ? vec3( 0.0, 1.0, 0.0 ) : vec3( 1.0, 0.0, 0.0 );
			tangent = normalize( cross( bd3D, tangent ) );
			vec3 bitangent = cross( bd3D, tangent );
			float phi = interleavedGradientNoise( gl_FragCoord.xy ) * PI2;
			shadow = 0.0;
			for ( int i = 0; i < 5; i ++ ) {
				vec2 offset = vogelDiskSample( i, 5, phi );
				vec3 direction = bd3D + ( tangent * offset.x + bitangent * offset.y ) * texelSize;
				vec3 absDirection = abs( direction );
				float dp = depthA + depthB / max( max( absDirection.x, absDirection.y ), absDirection.z );
				shadow += texture( shadowMap, vec4( direction, dp ) );
			}
			shadow *= 0.2;
		}
		return mix( 1.0, shadow, shadowIntensity );
	}
	#elif defined( SHADOWMAP_TYPE_BASIC )
	float getPointShadow( samplerCube shadowMap, vec2 shadowMapSize, float shadowIntensity, float shadowBias, float shadowRadius, vec4 shadowCoord, float shadowCameraNear, float shadowCameraFar ) {
		float shadow = 1.0;
		vec3 lightToPosition = shadowCoord.xyz;
		vec3 absVec = abs( lightToPosition );
		float viewSpaceZ = max( max( absVec.x, absVec.y ), absVec.z );
		if ( viewSpaceZ - shadowCameraFar <= 0.0 && viewSpaceZ - shadowCameraNear >= 0.0 ) {
			float dp = ( shadowCameraFar * ( viewSpaceZ - shadowCameraNear ) ) / ( viewSpaceZ * ( shadowCameraFar - shadowCameraNear ) );
			dp += shadowBias;
			vec3 bd3D = normalize( lightToPosition );
			float depth = textureCube( shadowMap, bd3D ).r;
			#ifdef USE_REVERSED_DEPTH_BUFFER
				depth = 1.0 - depth;
			#endif
			shadow = step( dp, depth );
		}
		return mix( 1.0, shadow, shadowIntensity );
	}
	#endif
	#endif
#endif`,shadowmap_pars_vertex:`#if NUM_SPOT_LIGHT_COORDS > 0
	uniform mat4 spotLightMatrix[ NUM_SPOT_LIGHT_COORDS ];
	varying vec4 vSpotLightCoord[ NUM_SPOT_LIGHT_COORDS ];
#endif
#ifdef USE_SHADOWMAP
	#if NUM_SUN_LIGHT_SHADOWS > 0
		varying vec4 vSunShadowWorldPosition;
		varying vec3 vSunShadowWorldNormal;
	#endif
	#if NUM_DIR_LIGHT_SHADOWS > 0
		uniform mat4 directionalShadowMatrix[ NUM_DIR_LIGHT_SHADOWS ];
		varying vec4 vDirectionalShadowCoord[ NUM_DIR_LIGHT_SHADOWS ];
		struct DirectionalLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform DirectionalLightShadow directionalLightShadows[ NUM_DIR_LIGHT_SHADOWS ];
	#endif
	#if NUM_SPOT_LIGHT_SHADOWS > 0
		struct SpotLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
		};
		uniform SpotLightShadow spotLightShadows[ NUM_SPOT_LIGHT_SHADOWS ];
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
		uniform mat4 pointShadowMatrix[ NUM_POINT_LIGHT_SHADOWS ];
		varying vec4 vPointShadowCoord[ NUM_POINT_LIGHT_SHADOWS ];
		struct PointLightShadow {
			float shadowIntensity;
			float shadowBias;
			float shadowNormalBias;
			float shadowRadius;
			vec2 shadowMapSize;
			float shadowCameraNear;
			float shadowCameraFar;
		};
		uniform PointLightShadow pointLightShadows[ NUM_POINT_LIGHT_SHADOWS ];
	#endif
#endif`,shadowmap_vertex:`#if ( defined( USE_SHADOWMAP ) && ( NUM_DIR_LIGHT_SHADOWS > 0 || NUM_SUN_LIGHT_SHADOWS > 0 || NUM_POINT_LIGHT_SHADOWS > 0 ) ) || ( NUM_SPOT_LIGHT_COORDS > 0 )
	#ifdef HAS_NORMAL
		vec3 shadowWorldNormal = transformNormalByInverseViewMatrix( transformedNormal, viewMatrix );
	#else
		vec3 shadowWorldNormal = vec3( 0.0 );
	#endif
	vec4 shadowWorldPosition;
#endif
#if defined( USE_SHADOWMAP )
	#if NUM_SUN_LIGHT_SHADOWS > 0
		vSunShadowWorldPosition = vec4( worldPosition.xyz, - mvPosition.z );
		vSunShadowWorldNormal = shadowWorldNormal;
	#endif
	#if NUM_DIR_LIGHT_SHADOWS > 0
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_DIR_LIGHT_SHADOWS; i ++ ) {
			shadowWorldPosition = worldPosition + vec4( shadowWorldNormal * directionalLightShadows[ i ].shadowNormalBias, 0 );
			vDirectionalShadowCoord[ i ] = directionalShadowMatrix[ i ] * shadowWorldPosition;
		}
		#pragma unroll_loop_end
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0
		#pragma unroll_loop_start
		for ( int i = 0; i < NUM_POINT_LIGHT_SHADOWS; i ++ ) {
			shadowWorldPosition = worldPosition + vec4( shadowWorldNormal * pointLightShadows[ i ].shadowNormalBias, 0 );
			vPointShadowCoord[ i ] = pointShadowMatrix[ i ] * shadowWorldPosition;
		}
		#pragma unroll_loop_end
	#endif
#endif
#if NUM_SPOT_LIGHT_COORDS > 0
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SPOT_LIGHT_COORDS; i ++ ) {
		shadowWorldPosition = worldPosition;
		#if ( defined( USE_SHADOWMAP ) && UNROLLED_LOOP_INDEX < NUM_SPOT_LIGHT_SHADOWS )
			shadowWorldPosition.xyz += shadowWorldNormal * spotLightShadows[ i ].shadowNormalBias;
		#endif
		vSpotLightCoord[ i ] = spotLightMatrix[ i ] * shadowWorldPosition;
	}
	#pragma unroll_loop_end
#endif`,shadowmask_pars_fragment:`float getShadowMask() {
	float shadow = 1.0;
	#ifdef USE_SHADOWMAP
	#if NUM_SUN_LIGHT_SHADOWS > 0
	SunLightShadow sunLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SUN_LIGHT_SHADOWS; i ++ ) {
		sunLight = sunLightShadows[ i ];
		shadow *= receiveShadow ? getSunShadow( sunShadowMap[ i ], sunLight, UNROLLED_LOOP_INDEX ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#if NUM_DIR_LIGHT_SHADOWS > 0
	DirectionalLightShadow directionalLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_DIR_LIGHT_SHADOWS; i ++ ) {
		directionalLight = directionalLightShadows[ i ];
		shadow *= receiveShadow ? getShadow( directionalShadowMap[ i ], directionalLight.shadowMapSize, directionalLight.shadowIntensity, directionalLight.shadowBias, directionalLight.shadowRadius, vDirectionalShadowCoord[ i ] ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#if NUM_SPOT_LIGHT_SHADOWS > 0
	SpotLightShadow spotLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_SPOT_LIGHT_SHADOWS; i ++ ) {
		spotLight = spotLightShadows[ i ];
		shadow *= receiveShadow ? getShadow( spotShadowMap[ i ], spotLight.shadowMapSize, spotLight.shadowIntensity, spotLight.shadowBias, spotLight.shadowRadius, vSpotLightCoord[ i ] ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#if NUM_POINT_LIGHT_SHADOWS > 0 && ( defined( SHADOWMAP_TYPE_PCF ) || defined( SHADOWMAP_TYPE_BASIC ) )
	PointLightShadow pointLight;
	#pragma unroll_loop_start
	for ( int i = 0; i < NUM_POINT_LIGHT_SHADOWS; i ++ ) {
		pointLight = pointLightShadows[ i ];
		shadow *= receiveShadow ? getPointShadow( pointShadowMap[ i ], pointLight.shadowMapSize, pointLight.shadowIntensity, pointLight.shadowBias, pointLight.shadowRadius, vPointShadowCoord[ i ], pointLight.shadowCameraNear, pointLight.shadowCameraFar ) : 1.0;
	}
	#pragma unroll_loop_end
	#endif
	#endif
	return shadow;
}`,skinbase_vertex:`#ifdef USE_SKINNING
	mat4 boneMatX = getBoneMatrix( skinIndex.x );
	mat4 boneMatY = getBoneMatrix( skinIndex.y );
	mat4 boneMatZ = getBoneMatrix( skinIndex.z );
	mat4 boneMatW = getBoneMatrix( skinIndex.w );
#endif`,skinning_pars_vertex:`#ifdef USE_SKINNING
	uniform mat4 bindMatrix;
	uniform mat4 bindMatrixInverse;
	uniform highp sampler2D boneTexture;
	mat4 getBoneMatrix( const in float i ) {
		int size = textureSize( boneTexture, 0 ).x;
		int j = int( i ) * 4;
		int x = j % size;
		int y = j / size;
		vec4 v1 = texelFetch( boneTexture, ivec2( x, y ), 0 );
		vec4 v2 = texelFetch( boneTexture, ivec2( x + 1, y ), 0 );
		vec4 v3 = texelFetch( boneTexture, ivec2( x + 2, y ), 0 );
		vec4 v4 = texelFetch( boneTexture, ivec2( x + 3, y ), 0 );
		return mat4( v1, v2, v3, v4 );
	}
#endif`,skinning_vertex:`#ifdef USE_SKINNING
	vec4 skinVertex = bindMatrix * vec4( transformed, 1.0 );
	vec4 skinned = vec4( 0.0 );
	skinned += boneMatX * skinVertex * skinWeight.x;
	skinned += boneMatY * skinVertex * skinWeight.y;
	skinned += boneMatZ * skinVertex * skinWeight.z;
	skinned += boneMatW * skinVertex * skinWeight.w;
	transformed = ( bindMatrixInverse * skinned ).xyz;
#endif`,skinnormal_vertex:`#ifdef USE_SKINNING
	mat4 skinMatrix = mat4( 0.0 );
	skinMatrix += skinWeight.x * boneMatX;
	skinMatrix += skinWeight.y * boneMatY;
	skinMatrix += skinWeight.z * boneMatZ;
	skinMatrix += skinWeight.w * boneMatW;
	skinMatrix = bindMatrixInverse * skinMatrix * bindMatrix;
	objectNormal = vec4( skinMatrix * vec4( objectNormal, 0.0 ) ).xyz;
	#ifdef USE_TANGENT
		objectTangent = vec4( skinMatrix * vec4( objectTangent, 0.0 ) ).xyz;
	#endif
#endif`,specularmap_fragment:`float specularStrength;
#ifdef USE_SPECULARMAP
	vec4 texelSpecular = texture2D( specularMap, vSpecularMapUv );
	specularStrength = texelSpecular.r;
#else
	specularStrength = 1.0;
#endif`,specularmap_pars_fragment:`#ifdef USE_SPECULARMAP
	uniform sampler2D specularMap;
#endif`,tonemapping_fragment:`#if defined( TONE_MAPPING )
	gl_FragColor.rgb = toneMapping( gl_FragColor.rgb );
#endif`,tonemapping_pars_fragment:`#ifndef saturate
#define saturate( a ) clamp( a, 0.0, 1.0 )
#endif
uniform float toneMappingExposure;
vec3 LinearToneMapping( vec3 color ) {
	return saturate( toneMappingExposure * color );
}
vec3 ReinhardToneMapping( vec3 color ) {
	color *= toneMappingExposure;
	return saturate( color / ( vec3( 1.0 ) + color ) );
}
vec3 CineonToneMapping( vec3 color ) {
	color *= toneMappingExposure;
	color = max( vec3( 0.0 ), color - 0.004 );
	return pow( ( color * ( 6.2 * color + 0.5 ) ) / ( color * ( 6.2 * color + 1.7 ) + 0.06 ), vec3( 2.2 ) );
}
vec3 RRTAndODTFit( vec3 v ) {
	vec3 a = v * ( v + 0.0245786 ) - 0.000090537;
	vec3 b = v * ( 0.983729 * v + 0.4329510 ) + 0.238081;
	return a / b;
}
vec3 ACESFilmicToneMapping( vec3 color ) {
	const mat3 ACESInputMat = mat3(
		vec3( 0.59719, 0.07600, 0.02840 ),		vec3( 0.35458, 0.90834, 0.13383 ),
		vec3( 0.04823, 0.01566, 0.83777 )
	);
	const mat3 ACESOutputMat = mat3(
		vec3(  1.60475, -0.10208, -0.00327 ),		vec3( -0.53108,  1.10813, -0.07276 ),
		vec3( -0.07367, -0.00605,  1.07602 )
	);
	color *= toneMappingExposure / 0.6;
	color = ACESInputMat * color;
	color = RRTAndODTFit( color );
	color = ACESOutputMat * color;
	return saturate( color );
}
const mat3 LINEAR_REC2020_TO_LINEAR_SRGB = mat3(
	vec3( 1.6605, - 0.1246, - 0.0182 ),
	vec3( - 0.5876, 1.1329, - 0.1006 ),
	vec3( - 0.0728, - 0.0083, 1.1187 )
);
const mat3 LINEAR_SRGB_TO_LINEAR_REC2020 = mat3(
	vec3( 0.6274, 0.0691, 0.0164 ),
	vec3( 0.3293, 0.9195, 0.0880 ),
	vec3( 0.0433, 0.0113, 0.8956 )
);
vec3 agxDefaultContrastApprox( vec3 x ) {
	vec3 x2 = x * x;
	vec3 x4 = x2 * x2;
	return + 15.5 * x4 * x2
		- 40.14 * x4 * x
		+ 31.96 * x4
		- 6.868 * x2 * x
		+ 0.4298 * x2
		+ 0.1191 * x
		- 0.00232;
}
vec3 AgXToneMapping( vec3 color ) {
	const mat3 AgXInsetMatrix = mat3(
		vec3( 0.856627153315983, 0.137318972929847, 0.11189821299995 ),
		vec3( 0.0951212405381588, 0.761241990602591, 0.0767994186031903 ),
		vec3( 0.0482516061458583, 0.101439036467562, 0.811302368396859 )
	);
	const mat3 AgXOutsetMatrix = mat3(
		vec3( 1.1271005818144368, - 0.1413297634984383, - 0.14132976349843826 ),
		vec3( - 0.11060664309660323, 1.157823702216272, - 0.11060664309660294 ),
		vec3( - 0.016493938717834573, - 0.016493938717834257, 1.2519364065950405 )
	);
	const float AgxMinEv = - 12.47393;	const float AgxMaxEv = 4.026069;
	color *= toneMappingExposure;
	color = LINEAR_SRGB_TO_LINEAR_REC2020 * color;
	color = AgXInsetMatrix * color;
	color = max( color, 1e-10 );	color = log2( color );
	color = ( color - AgxMinEv ) / ( AgxMaxEv - AgxMinEv );
	color = clamp( color, 0.0, 1.0 );
	color = agxDefaultContrastApprox( color );
	color = AgXOutsetMatrix * color;
	color = pow( max( vec3( 0.0 ), color ), vec3( 2.2 ) );
	color = LINEAR_REC2020_TO_LINEAR_SRGB * color;
	color = clamp( color, 0.0, 1.0 );
	return color;
}
vec3 NeutralToneMapping( vec3 color ) {
	const float StartCompression = 0.8 - 0.04;
	const float Desaturation = 0.15;
	color *= toneMappingExposure;
	float x = min( color.r, min( color.g, color.b ) );
	float offset = x < 0.08 ? x - 6.25 * x * x : 0.04;
	color -= offset;
	float peak = max( color.r, max( color.g, color.b ) );
	if ( peak < StartCompression ) return color;
	float d = 1. - StartCompression;
	float newPeak = 1. - d * d / ( peak + d - StartCompression );
	color *= newPeak / peak;
	float g = 1. - 1. / ( Desaturation * ( peak - newPeak ) + 1. );
	return mix( color, vec3( newPeak ), g );
}
vec3 CustomToneMapping( vec3 color ) { return color; }`,transmission_fragment:`#ifdef USE_TRANSMISSION
	material.transmission = transmission;
	material.transmissionAlpha = 1.0;
	material.thickness = thickness;
	material.attenuationDistance = attenuationDistance;
	material.attenuationColor = attenuationColor;
	#ifdef USE_TRANSMISSIONMAP
		material.transmission *= texture2D( transmissionMap, vTransmissionMapUv ).r;
	#endif
	#ifdef USE_THICKNESSMAP
		material.thickness *= texture2D( thicknessMap, vThicknessMapUv ).g;
	#endif
	vec3 pos = vWorldPosition;
	vec3 v = normalize( cameraPosition - pos );
	vec3 n = transformNormalByInverseViewMatrix( normal, viewMatrix );
	vec4 transmitted = getIBLVolumeRefraction(
		n, v, material.roughness, material.diffuseContribution, material.specularColorBlended, material.specularF90,
		pos, modelMatrix, viewMatrix, projectionMatrix, material.dispersion, material.ior, material.thickness,
		material.attenuationColor, material.attenuationDistance );
	material.transmissionAlpha = mix( material.transmissionAlpha, transmitted.a, material.transmission );
	totalDiffuse = mix( totalDiffuse, transmitted.rgb, material.transmission );
#endif`,transmission_pars_fragment:`#ifdef USE_TRANSMISSION
	uniform float transmission;
	uniform float thickness;
	uniform float attenuationDistance;
	uniform vec3 attenuationColor;
	#ifdef USE_TRANSMISSIONMAP
		uniform sampler2D transmissionMap;
	#endif
	#ifdef USE_THICKNESSMAP
		uniform sampler2D thicknessMap;
	#endif
	uniform vec2 transmissionSamplerSize;
	uniform sampler2D transmissionSamplerMap;
	uniform mat4 modelMatrix;
	uniform mat4 projectionMatrix;
	varying vec3 vWorldPosition;
	float w0( float a ) {
		return ( 1.0 / 6.0 ) * ( a * ( a * ( - a + 3.0 ) - 3.0 ) + 1.0 );
	}
	float w1( float a ) {
		return ( 1.0 / 6.0 ) * ( a *  a * ( 3.0 * a - 6.0 ) + 4.0 );
	}
	float w2( float a ){
		return ( 1.0 / 6.0 ) * ( a * ( a * ( - 3.0 * a + 3.0 ) + 3.0 ) + 1.0 );
	}
	float w3( float a ) {
		return ( 1.0 / 6.0 ) * ( a * a * a );
	}
	float g0( float a ) {
		return w0( a ) + w1( a );
	}
	float g1( float a ) {
		return w2( a ) + w3( a );
	}
	float h0( float a ) {
		return - 1.0 + w1( a ) / ( w0( a ) + w1( a ) );
	}
	float h1( float a ) {
		return 1.0 + w3( a ) / ( w2( a ) + w3( a ) );
	}
	vec4 bicubic( sampler2D tex, vec2 uv, vec4 texelSize, float lod ) {
		uv = uv * texelSize.zw + 0.5;
		vec2 iuv = floor( uv );
		vec2 fuv = fract( uv );
		float g0x = g0( fuv.x );
		float g1x = g1( fuv.x );
		float h0x = h0( fuv.x );
		float h1x = h1( fuv.x );
		float h0y = h0( fuv.y );
		float h1y = h1( fuv.y );
		vec2 p0 = ( vec2( iuv.x + h0x, iuv.y + h0y ) - 0.5 ) * texelSize.xy;
		vec2 p1 = ( vec2( iuv.x + h1x, iuv.y + h0y ) - 0.5 ) * texelSize.xy;
		vec2 p2 = ( vec2( iuv.x + h0x, iuv.y + h1y ) - 0.5 ) * texelSize.xy;
		vec2 p3 = ( vec2( iuv.x + h1x, iuv.y + h1y ) - 0.5 ) * texelSize.xy;
		return g0( fuv.y ) * ( g0x * textureLod( tex, p0, lod ) + g1x * textureLod( tex, p1, lod ) ) +
			g1( fuv.y ) * ( g0x * textureLod( tex, p2, lod ) + g1x * textureLod( tex, p3, lod ) );
	}
	vec4 textureBicubic( sampler2D sampler, vec2 uv, float lod ) {
		vec2 fLodSize = vec2( textureSize( sampler, int( lod ) ) );
		vec2 cLodSize = vec2( textureSize( sampler, int( lod + 1.0 ) ) );
		vec2 fLodSizeInv = 1.0 / fLodSize;
		vec2 cLodSizeInv = 1.0 / cLodSize;
		vec4 fSample = bicubic( sampler, uv, vec4( fLodSizeInv, fLodSize ), floor( lod ) );
		vec4 cSample = bicubic( sampler, uv, vec4( cLodSizeInv, cLodSize ), ceil( lod ) );
		return mix( fSample, cSample, fract( lod ) );
	}
	vec3 getVolumeTransmissionRay( const in vec3 n, const in vec3 v, const in float thickness, const in float ior, const in mat4 modelMatrix ) {
		vec3 refractionVector = refract( - v, normalize( n ), 1.0 / ior );
		vec3 modelScale;
		modelScale.x = length( vec3( modelMatrix[ 0 ].xyz ) );
		modelScale.y = length( vec3( modelMatrix[ 1 ].xyz ) );
		modelScale.z = length( vec3( modelMatrix[ 2 ].xyz ) );
		return normalize( refractionVector ) * thickness * modelScale;
	}
	float applyIorToRoughness( const in float roughness, const in float ior ) {
		return roughness * clamp( ior * 2.0 - 2.0, 0.0, 1.0 );
	}
	vec4 getTransmissionSample( const in vec2 fragCoord, const in float roughness, const in float ior ) {
		float lod = log2( transmissionSamplerSize.x ) * applyIorToRoughness( roughness, ior );
		return textureBicubic( transmissionSamplerMap, fragCoord.xy, lod );
	}
	vec3 volumeAttenuation( const in float transmissionDistance, const in vec3 attenuationColor, const in float attenuationDistance ) {
		if ( isinf( attenuationDistance ) ) {
			return vec3( 1.0 );
		} else {
			vec3 attenuationCoefficient = -log( attenuationColor ) / attenuationDistance;
			vec3 transmittance = exp( - attenuationCoefficient * transmissionDistance );			return transmittance;
		}
	}
	vec4 getIBLVolumeRefraction( const in vec3 n, const in vec3 v, const in float roughness, const in vec3 diffuseColor,
		const in vec3 specularColor, const in float specularF90, const in vec3 position, const in mat4 modelMatrix,
		const in mat4 viewMatrix, const in mat4 projMatrix, const in float dispersion, const in float ior, const in float thickness,
		const in vec3 attenuationColor, const in float attenuationDistance ) {
		vec4 transmittedLight;
		vec3 transmittance;
		#ifdef USE_DISPERSION
			float halfSpread = ( ior - 1.0 ) * 0.025 * dispersion;
			vec3 iors = vec3( ior - halfSpread, ior, ior + halfSpread );
			for ( int i = 0; i < 3; i ++ ) {
				vec3 transmissionRay = getVolumeTransmissionRay( n, v, thickness, iors[ i ], modelMatrix );
				vec3 refractedRayExit = position + transmissionRay;
				vec4 ndcPos = projMatrix * viewMatrix * vec4( refractedRayExit, 1.0 );
				vec2 refractionCoords = ndcPos.xy / ndcPos.w;
				refractionCoords += 1.0;
				refractionCoords /= 2.0;
				vec4 transmissionSample = getTransmissionSample( refractionCoords, roughness, iors[ i ] );
				transmittedLight[ i ] = transmissionSample[ i ];
				transmittedLight.a += transmissionSample.a;
				transmittance[ i ] = diffuseColor[ i ] * volumeAttenuation( length( transmissionRay ), attenuationColor, attenuationDistance )[ i ];
			}
			transmittedLight.a /= 3.0;
		#else
			vec3 transmissionRay = getVolumeTransmissionRay( n, v, thickness, ior, modelMatrix );
			vec3 refractedRayExit = position + transmissionRay;
			vec4 ndcPos = projMatrix * viewMatrix * vec4( refractedRayExit, 1.0 );
			vec2 refractionCoords = ndcPos.xy / ndcPos.w;
			refractionCoords += 1.0;
			refractionCoords /= 2.0;
			transmittedLight = getTransmissionSample( refractionCoords, roughness, ior );
			transmittance = diffuseColor * volumeAttenuation( length( transmissionRay ), attenuationColor, attenuationDistance );
		#endif
		vec3 attenuatedColor = transmittance * transmittedLight.rgb;
		vec3 F = EnvironmentBRDF( n, v, specularColor, specularF90, roughness );
		float transmittanceFactor = ( transmittance.r + transmittance.g + transmittance.b ) / 3.0;
		return vec4( ( 1.0 - F ) * attenuatedColor, 1.0 - ( 1.0 - transmittedLight.a ) * transmittanceFactor );
	}
#endif`,uv_pars_fragment:`#if defined( USE_UV ) || defined( USE_ANISOTROPY )
	varying vec2 vUv;
#endif
#ifdef USE_MAP
	varying vec2 vMapUv;
#endif
#ifdef USE_ALPHAMAP
	varying vec2 vAlphaMapUv;
#endif
#ifdef USE_LIGHTMAP
	varying vec2 vLightMapUv;
#endif
#ifdef USE_AOMAP
	varying vec2 vAoMapUv;
#endif
#ifdef USE_BUMPMAP
	varying vec2 vBumpMapUv;
#endif
#ifdef USE_NORMALMAP
	varying vec2 vNormalMapUv;
#endif
#ifdef USE_EMISSIVEMAP
	varying vec2 vEmissiveMapUv;
#endif
#ifdef USE_METALNESSMAP
	varying vec2 vMetalnessMapUv;
#endif
#ifdef USE_ROUGHNESSMAP
	varying vec2 vRoughnessMapUv;
#endif
#ifdef USE_DIFFUSE_ROUGHNESSMAP
	varying vec2 vDiffuseRoughnessMapUv;
#endif
#ifdef USE_ANISOTROPYMAP
	varying vec2 vAnisotropyMapUv;
#endif
#ifdef USE_CLEARCOATMAP
	varying vec2 vClearcoatMapUv;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	varying vec2 vClearcoatNormalMapUv;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	varying vec2 vClearcoatRoughnessMapUv;
#endif
#ifdef USE_IRIDESCENCEMAP
	varying vec2 vIridescenceMapUv;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	varying vec2 vIridescenceThicknessMapUv;
#endif
#ifdef USE_SHEEN_COLORMAP
	varying vec2 vSheenColorMapUv;
#endif
#ifdef USE_SHEEN_ROUGHNESSMAP
	varying vec2 vSheenRoughnessMapUv;
#endif
#ifdef USE_SPECULARMAP
	varying vec2 vSpecularMapUv;
#endif
#ifdef USE_SPECULAR_COLORMAP
	varying vec2 vSpecularColorMapUv;
#endif
#ifdef USE_SPECULAR_INTENSITYMAP
	varying vec2 vSpecularIntensityMapUv;
#endif
#ifdef USE_TRANSMISSIONMAP
	uniform mat3 transmissionMapTransform;
	varying vec2 vTransmissionMapUv;
#endif
#ifdef USE_THICKNESSMAP
	uniform mat3 thicknessMapTransform;
	varying vec2 vThicknessMapUv;
#endif`,uv_pars_vertex:`#if defined( USE_UV ) || defined( USE_ANISOTROPY )
	varying vec2 vUv;
#endif
#ifdef USE_MAP
	uniform mat3 mapTransform;
	varying vec2 vMapUv;
#endif
#ifdef USE_ALPHAMAP
	uniform mat3 alphaMapTransform;
	varying vec2 vAlphaMapUv;
#endif
#ifdef USE_LIGHTMAP
	uniform mat3 lightMapTransform;
	varying vec2 vLightMapUv;
#endif
#ifdef USE_AOMAP
	uniform mat3 aoMapTransform;
	varying vec2 vAoMapUv;
#endif
#ifdef USE_BUMPMAP
	uniform mat3 bumpMapTransform;
	varying vec2 vBumpMapUv;
#endif
#ifdef USE_NORMALMAP
	uniform mat3 normalMapTransform;
	varying vec2 vNormalMapUv;
#endif
#ifdef USE_DISPLACEMENTMAP
	uniform mat3 displacementMapTransform;
	varying vec2 vDisplacementMapUv;
#endif
#ifdef USE_EMISSIVEMAP
	uniform mat3 emissiveMapTransform;
	varying vec2 vEmissiveMapUv;
#endif
#ifdef USE_METALNESSMAP
	uniform mat3 metalnessMapTransform;
	varying vec2 vMetalnessMapUv;
#endif
#ifdef USE_ROUGHNESSMAP
	uniform mat3 roughnessMapTransform;
	varying vec2 vRoughnessMapUv;
#endif
#ifdef USE_DIFFUSE_ROUGHNESSMAP
	uniform mat3 diffuseRoughnessMapTransform;
	varying vec2 vDiffuseRoughnessMapUv;
#endif
#ifdef USE_ANISOTROPYMAP
	uniform mat3 anisotropyMapTransform;
	varying vec2 vAnisotropyMapUv;
#endif
#ifdef USE_CLEARCOATMAP
	uniform mat3 clearcoatMapTransform;
	varying vec2 vClearcoatMapUv;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	uniform mat3 clearcoatNormalMapTransform;
	varying vec2 vClearcoatNormalMapUv;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	uniform mat3 clearcoatRoughnessMapTransform;
	varying vec2 vClearcoatRoughnessMapUv;
#endif
#ifdef USE_SHEEN_COLORMAP
	uniform mat3 sheenColorMapTransform;
	varying vec2 vSheenColorMapUv;
#endif
#ifdef USE_SHEEN_ROUGHNESSMAP
	uniform mat3 sheenRoughnessMapTransform;
	varying vec2 vSheenRoughnessMapUv;
#endif
#ifdef USE_IRIDESCENCEMAP
	uniform mat3 iridescenceMapTransform;
	varying vec2 vIridescenceMapUv;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	uniform mat3 iridescenceThicknessMapTransform;
	varying vec2 vIridescenceThicknessMapUv;
#endif
#ifdef USE_SPECULARMAP
	uniform mat3 specularMapTransform;
	varying vec2 vSpecularMapUv;
#endif
#ifdef USE_SPECULAR_COLORMAP
	uniform mat3 specularColorMapTransform;
	varying vec2 vSpecularColorMapUv;
#endif
#ifdef USE_SPECULAR_INTENSITYMAP
	uniform mat3 specularIntensityMapTransform;
	varying vec2 vSpecularIntensityMapUv;
#endif
#ifdef USE_TRANSMISSIONMAP
	uniform mat3 transmissionMapTransform;
	varying vec2 vTransmissionMapUv;
#endif
#ifdef USE_THICKNESSMAP
	uniform mat3 thicknessMapTransform;
	varying vec2 vThicknessMapUv;
#endif`,uv_vertex:`#if defined( USE_UV ) || defined( USE_ANISOTROPY )
	vUv = vec3( uv, 1 ).xy;
#endif
#ifdef USE_MAP
	vMapUv = ( mapTransform * vec3( MAP_UV, 1 ) ).xy;
#endif
#ifdef USE_ALPHAMAP
	vAlphaMapUv = ( alphaMapTransform * vec3( ALPHAMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_LIGHTMAP
	vLightMapUv = ( lightMapTransform * vec3( LIGHTMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_AOMAP
	vAoMapUv = ( aoMapTransform * vec3( AOMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_BUMPMAP
	vBumpMapUv = ( bumpMapTransform * vec3( BUMPMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_NORMALMAP
	vNormalMapUv = ( normalMapTransform * vec3( NORMALMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_DISPLACEMENTMAP
	vDisplacementMapUv = ( displacementMapTransform * vec3( DISPLACEMENTMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_EMISSIVEMAP
	vEmissiveMapUv = ( emissiveMapTransform * vec3( EMISSIVEMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_METALNESSMAP
	vMetalnessMapUv = ( metalnessMapTransform * vec3( METALNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_ROUGHNESSMAP
	vRoughnessMapUv = ( roughnessMapTransform * vec3( ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_DIFFUSE_ROUGHNESSMAP
	vDiffuseRoughnessMapUv = ( diffuseRoughnessMapTransform * vec3( DIFFUSE_ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_ANISOTROPYMAP
	vAnisotropyMapUv = ( anisotropyMapTransform * vec3( ANISOTROPYMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_CLEARCOATMAP
	vClearcoatMapUv = ( clearcoatMapTransform * vec3( CLEARCOATMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_CLEARCOAT_NORMALMAP
	vClearcoatNormalMapUv = ( clearcoatNormalMapTransform * vec3( CLEARCOAT_NORMALMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_CLEARCOAT_ROUGHNESSMAP
	vClearcoatRoughnessMapUv = ( clearcoatRoughnessMapTransform * vec3( CLEARCOAT_ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_IRIDESCENCEMAP
	vIridescenceMapUv = ( iridescenceMapTransform * vec3( IRIDESCENCEMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_IRIDESCENCE_THICKNESSMAP
	vIridescenceThicknessMapUv = ( iridescenceThicknessMapTransform * vec3( IRIDESCENCE_THICKNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SHEEN_COLORMAP
	vSheenColorMapUv = ( sheenColorMapTransform * vec3( SHEEN_COLORMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SHEEN_ROUGHNESSMAP
	vSheenRoughnessMapUv = ( sheenRoughnessMapTransform * vec3( SHEEN_ROUGHNESSMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SPECULARMAP
	vSpecularMapUv = ( specularMapTransform * vec3( SPECULARMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SPECULAR_COLORMAP
	vSpecularColorMapUv = ( specularColorMapTransform * vec3( SPECULAR_COLORMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_SPECULAR_INTENSITYMAP
	vSpecularIntensityMapUv = ( specularIntensityMapTransform * vec3( SPECULAR_INTENSITYMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_TRANSMISSIONMAP
	vTransmissionMapUv = ( transmissionMapTransform * vec3( TRANSMISSIONMAP_UV, 1 ) ).xy;
#endif
#ifdef USE_THICKNESSMAP
	vThicknessMapUv = ( thicknessMapTransform * vec3( THICKNESSMAP_UV, 1 ) ).xy;
#endif`,worldpos_vertex:`#if defined( USE_ENVMAP ) || defined( DISTANCE ) || defined ( USE_SHADOWMAP ) || defined ( USE_TRANSMISSION ) || NUM_SPOT_LIGHT_COORDS > 0
	vec4 worldPosition = vec4( transformed, 1.0 );
	#ifdef USE_BATCHING
		worldPosition = batchingMatrix * worldPosition;
	#endif
	#ifdef USE_INSTANCING
		worldPosition = instanceMatrix * worldPosition;
	#endif
	worldPosition = modelMatrix * worldPosition;
#endif`,background_vert:`varying vec2 vUv;
uniform mat3 uvTransform;
void main() {
	vUv = ( uvTransform * vec3( uv, 1 ) ).xy;
	gl_Position = vec4( position.xy, 1.0, 1.0 );
}`,background_frag:`uniform sampler2D t2D;
uniform float backgroundIntensity;
varying vec2 vUv;
void main() {
	vec4 texColor = texture2D( t2D, vUv );
	#ifdef DECODE_VIDEO_TEXTURE
		texColor = vec4( mix( pow( texColor.rgb * 0.9478672986 + vec3( 0.0521327014 ), vec3( 2.4 ) ), texColor.rgb * 0.0773993808, vec3( lessThanEqual( texColor.rgb, vec3( 0.04045 ) ) ) ), texColor.w );
	#endif
	texColor.rgb *= backgroundIntensity;
	gl_FragColor = texColor;
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,backgroundCube_vert:`varying vec3 vWorldDirection;
#include <common>
void main() {
	vWorldDirection = transformDirection( position, modelMatrix );
	#include <begin_vertex>
	#include <project_vertex>
	gl_Position.z = gl_Position.w;
}`,backgroundCube_frag:`uniform float backgroundBlurriness;
uniform float backgroundIntensity;
uniform mat3 backgroundRotation;
varying vec3 vWorldDirection;
#include <envmap_common_pars_fragment>
void main() {
	#ifdef ENVMAP_TYPE_PMREM
		vec4 texColor = textureLod( envMap, backgroundRotation * vWorldDirection, roughnessToMip( backgroundBlurriness ) );
	#else
		vec4 texColor = textureCube( envMap, backgroundRotation * vWorldDirection );
	#endif
	texColor.rgb *= backgroundIntensity;
	gl_FragColor = texColor;
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,cube_vert:`varying vec3 vWorldDirection;
#include <common>
void main() {
	vWorldDirection = transformDirection( position, modelMatrix );
	#include <begin_vertex>
	#include <project_vertex>
	gl_Position.z = gl_Position.w;
}`,cube_frag:`uniform samplerCube tCube;
uniform float tFlip;
uniform float opacity;
varying vec3 vWorldDirection;
void main() {
	vec4 texColor = textureCube( tCube, vec3( tFlip * vWorldDirection.x, vWorldDirection.yz ) );
	gl_FragColor = texColor;
	gl_FragColor.a *= opacity;
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,depth_vert:`#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
varying vec2 vHighPrecisionZW;
void main() {
	#include <uv_vertex>
	#include <batching_vertex>
	#include <skinbase_vertex>
	#include <morphinstance_vertex>
	#ifdef USE_DISPLACEMENTMAP
		#include <beginnormal_vertex>
		#include <morphnormal_vertex>
		#include <skinnormal_vertex>
	#endif
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vHighPrecisionZW = gl_Position.zw;
}`,depth_frag:`#if DEPTH_PACKING == 3200
	uniform float opacity;
#endif
#include <common>
#include <packing>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
varying vec2 vHighPrecisionZW;
void main() {
	vec4 diffuseColor = vec4( 1.0 );
	#include <clipping_planes_fragment>
	#if DEPTH_PACKING == 3200
		diffuseColor.a = opacity;
	#endif
	#include <map_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <logdepthbuf_fragment>
	#ifdef USE_REVERSED_DEPTH_BUFFER
		float fragCoordZ = vHighPrecisionZW[ 0 ] / vHighPrecisionZW[ 1 ];
	#else
		float fragCoordZ = 0.5 * vHighPrecisionZW[ 0 ] / vHighPrecisionZW[ 1 ] + 0.5;
	#endif
	#if DEPTH_PACKING == 3200
		gl_FragColor = vec4( vec3( 1.0 - fragCoordZ ), opacity );
	#elif DEPTH_PACKING == 3201
		gl_FragColor = packDepthToRGBA( fragCoordZ );
	#elif DEPTH_PACKING == 3202
		gl_FragColor = vec4( packDepthToRGB( fragCoordZ ), 1.0 );
	#elif DEPTH_PACKING == 3203
		gl_FragColor = vec4( packDepthToRG( fragCoordZ ), 0.0, 1.0 );
	#endif
}`,distance_vert:`#define DISTANCE
varying vec3 vWorldPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <batching_vertex>
	#include <skinbase_vertex>
	#include <morphinstance_vertex>
	#ifdef USE_DISPLACEMENTMAP
		#include <beginnormal_vertex>
		#include <morphnormal_vertex>
		#include <skinnormal_vertex>
	#endif
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <worldpos_vertex>
	#include <clipping_planes_vertex>
	vWorldPosition = worldPosition.xyz;
}`,distance_frag:`#define DISTANCE
uniform vec3 referencePosition;
uniform float nearDistance;
uniform float farDistance;
varying vec3 vWorldPosition;
#include <common>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( 1.0 );
	#include <clipping_planes_fragment>
	#include <map_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	float dist = length( vWorldPosition - referencePosition );
	dist = ( dist - nearDistance ) / ( farDistance - nearDistance );
	dist = saturate( dist );
	gl_FragColor = vec4( dist, 0.0, 0.0, 1.0 );
}`,equirect_vert:`varying vec3 vWorldDirection;
#include <common>
void main() {
	vWorldDirection = transformDirection( position, modelMatrix );
	#include <begin_vertex>
	#include <project_vertex>
}`,equirect_frag:`uniform sampler2D tEquirect;
varying vec3 vWorldDirection;
#include <common>
void main() {
	vec3 direction = normalize( vWorldDirection );
	vec2 sampleUV = equirectUv( direction );
	gl_FragColor = texture2D( tEquirect, sampleUV );
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
}`,linedashed_vert:`uniform float scale;
attribute float lineDistance;
varying float vLineDistance;
#include <common>
#include <uv_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	vLineDistance = scale * lineDistance;
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <fog_vertex>
}`,linedashed_frag:`uniform vec3 diffuse;
uniform float opacity;
uniform float dashSize;
uniform float totalSize;
varying float vLineDistance;
#include <common>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <fog_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	if ( mod( vLineDistance, totalSize ) > dashSize ) {
		discard;
	}
	vec3 outgoingLight = vec3( 0.0 );
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	outgoingLight = diffuseColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
}`,meshbasic_vert:`#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <envmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#if defined ( USE_ENVMAP ) || defined ( USE_SKINNING )
		#include <beginnormal_vertex>
		#include <morphnormal_vertex>
		#include <skinbase_vertex>
		#include <skinnormal_vertex>
		#include <defaultnormal_vertex>
	#endif
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <worldpos_vertex>
	#include <envmap_vertex>
	#include <fog_vertex>
}`,meshbasic_frag:`uniform vec3 diffuse;
uniform float opacity;
#ifndef FLAT_SHADED
	varying vec3 vNormal;
#endif
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_pars_fragment>
#include <fog_pars_fragment>
#include <specularmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <specularmap_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	#ifdef USE_LIGHTMAP
		vec4 lightMapTexel = texture2D( lightMap, vLightMapUv );
		reflectedLight.indirectDiffuse += lightMapTexel.rgb * lightMapIntensity * RECIPROCAL_PI;
	#else
		reflectedLight.indirectDiffuse += vec3( 1.0 );
	#endif
	#include <aomap_fragment>
	reflectedLight.indirectDiffuse *= diffuseColor.rgb;
	vec3 outgoingLight = reflectedLight.indirectDiffuse;
	#include <envmap_fragment>
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshlambert_vert:`#define LAMBERT
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <envmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <envmap_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,meshlambert_frag:`#define LAMBERT
uniform vec3 diffuse;
uniform vec3 emissive;
uniform float opacity;
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_pars_fragment>
#include <envmap_physical_pars_fragment>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_lambert_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <specularmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <specularmap_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_lambert_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 outgoingLight = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse + totalEmissiveRadiance;
	#include <envmap_fragment>
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshmatcap_vert:`#define MATCAP
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <color_pars_vertex>
#include <displacementmap_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <fog_vertex>
	vViewPosition = - mvPosition.xyz;
}`,meshmatcap_frag:`#define MATCAP
uniform vec3 diffuse;
uniform float opacity;
uniform sampler2D matcap;
varying vec3 vViewPosition;
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <fog_pars_fragment>
#include <normal_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	vec3 viewDir = normalize( vViewPosition );
	vec3 x = normalize( vec3( viewDir.z, 0.0, - viewDir.x ) );
	vec3 y = cross( viewDir, x );
	vec2 uv = vec2( dot( x, normal ), dot( y, normal ) ) * 0.495 + 0.5;
	#ifdef USE_MATCAP
		vec4 matcapColor = texture2D( matcap, uv );
	#else
		vec4 matcapColor = vec4( vec3( mix( 0.2, 0.8, uv.y ) ), 1.0 );
	#endif
	vec3 outgoingLight = diffuseColor.rgb * matcapColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshnormal_vert:`#define NORMAL
#if defined( FLAT_SHADED ) || defined( USE_BUMPMAP ) || defined( USE_NORMALMAP_TANGENTSPACE )
	varying vec3 vViewPosition;
#endif
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphinstance_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
#if defined( FLAT_SHADED ) || defined( USE_BUMPMAP ) || defined( USE_NORMALMAP_TANGENTSPACE )
	vViewPosition = - mvPosition.xyz;
#endif
}`,meshnormal_frag:`#define NORMAL
uniform float opacity;
#if defined( FLAT_SHADED ) || defined( USE_BUMPMAP ) || defined( USE_NORMALMAP_TANGENTSPACE )
	varying vec3 vViewPosition;
#endif
#include <uv_pars_fragment>
#include <normal_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( 0.0, 0.0, 0.0, opacity );
	#include <clipping_planes_fragment>
	#include <logdepthbuf_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	gl_FragColor = vec4( normalize( normal ) * 0.5 + 0.5, diffuseColor.a );
	#ifdef OPAQUE
		gl_FragColor.a = 1.0;
	#endif
}`,meshphong_vert:`#define PHONG
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <envmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphinstance_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <envmap_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,meshphong_frag:`#define PHONG
uniform vec3 diffuse;
uniform vec3 emissive;
uniform vec3 specular;
uniform float shininess;
uniform float opacity;
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_pars_fragment>
#include <envmap_physical_pars_fragment>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_phong_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <specularmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <specularmap_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_phong_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 outgoingLight = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse + reflectedLight.directSpecular + reflectedLight.indirectSpecular + totalEmissiveRadiance;
	#include <envmap_fragment>
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshphysical_vert:`#define STANDARD
varying vec3 vViewPosition;
#ifdef USE_TRANSMISSION
	varying vec3 vWorldPosition;
#endif
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
#ifdef USE_TRANSMISSION
	vWorldPosition = worldPosition.xyz;
#endif
}`,meshphysical_frag:`#define STANDARD
#ifdef PHYSICAL
	#define IOR
	#define USE_SPECULAR
#endif
uniform vec3 diffuse;
uniform vec3 emissive;
uniform float roughness;
uniform float metalness;
uniform float opacity;
#ifdef IOR
	uniform float ior;
#endif
#ifdef USE_SPECULAR
	uniform float specularIntensity;
	uniform vec3 specularColor;
	#ifdef USE_SPECULAR_COLORMAP
		uniform sampler2D specularColorMap;
	#endif
	#ifdef USE_SPECULAR_INTENSITYMAP
		uniform sampler2D specularIntensityMap;
	#endif
#endif
#ifdef USE_CLEARCOAT
	uniform float clearcoat;
	uniform float clearcoatRoughness;
#endif
#ifdef USE_DIFFUSE_ROUGHNESS
	uniform float diffuseRoughness;
	#ifdef USE_DIFFUSE_ROUGHNESSMAP
		uniform sampler2D diffuseRoughnessMap;
	#endif
#endif
#ifdef USE_DISPERSION
	uniform float dispersion;
#endif
#ifdef USE_RETROREFLECTION
	uniform float retroreflectivity;
#endif
#ifdef USE_IRIDESCENCE
	uniform float iridescence;
	uniform float iridescenceIOR;
	uniform float iridescenceThicknessMinimum;
	uniform float iridescenceThicknessMaximum;
#endif
#ifdef USE_SHEEN
	uniform vec3 sheenColor;
	uniform float sheenRoughness;
	#ifdef USE_SHEEN_COLORMAP
		uniform sampler2D sheenColorMap;
	#endif
	#ifdef USE_SHEEN_ROUGHNESSMAP
		uniform sampler2D sheenRoughnessMap;
	#endif
#endif
#ifdef USE_ANISOTROPY
	uniform vec2 anisotropyVector;
	#ifdef USE_ANISOTROPYMAP
		uniform sampler2D anisotropyMap;
	#endif
#endif
varying vec3 vViewPosition;
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <iridescence_fragment>
#include <envmap_common_pars_fragment>
#include <envmap_physical_pars_fragment>
#include <fog_pars_fragment>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_physical_pars_fragment>
#include <transmission_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <clearcoat_pars_fragment>
#include <iridescence_pars_fragment>
#include <roughnessmap_pars_fragment>
#include <metalnessmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <roughnessmap_fragment>
	#include <metalnessmap_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <clearcoat_normal_fragment_begin>
	#include <clearcoat_normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_physical_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 totalDiffuse = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse;
	vec3 totalSpecular = reflectedLight.directSpecular + reflectedLight.indirectSpecular;
	#include <transmission_fragment>
	vec3 outgoingLight = totalDiffuse + totalSpecular + totalEmissiveRadiance;
	#ifdef USE_SHEEN
 
		outgoingLight = outgoingLight + sheenSpecularDirect + sheenSpecularIndirect;
 
 	#endif
	#ifdef USE_CLEARCOAT
		float dotNVcc = saturate( dot( geometryClearcoatNormal, geometryViewDir ) );
		vec3 Fcc = F_Schlick( material.clearcoatF0, material.clearcoatF90, dotNVcc );
		outgoingLight = outgoingLight * ( 1.0 - material.clearcoat * Fcc ) + ( clearcoatSpecularDirect + clearcoatSpecularIndirect ) * material.clearcoat;
	#endif
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,meshtoon_vert:`#define TOON
varying vec3 vViewPosition;
#include <common>
#include <batching_pars_vertex>
#include <uv_pars_vertex>
#include <displacementmap_pars_vertex>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <normal_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <shadowmap_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <normal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <displacementmap_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	vViewPosition = - mvPosition.xyz;
	#include <worldpos_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,meshtoon_frag:`#define TOON
uniform vec3 diffuse;
uniform vec3 emissive;
uniform float opacity;
#include <common>
#include <dithering_pars_fragment>
#include <color_pars_fragment>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <aomap_pars_fragment>
#include <lightmap_pars_fragment>
#include <emissivemap_pars_fragment>
#include <gradientmap_pars_fragment>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <normal_pars_fragment>
#include <lights_toon_pars_fragment>
#include <shadowmap_pars_fragment>
#include <bumpmap_pars_fragment>
#include <normalmap_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	ReflectedLight reflectedLight = ReflectedLight( vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ), vec3( 0.0 ) );
	vec3 totalEmissiveRadiance = emissive;
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <color_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	#include <normal_fragment_begin>
	#include <normal_fragment_maps>
	#include <emissivemap_fragment>
	#include <lights_toon_fragment>
	#include <lights_fragment_begin>
	#include <lights_fragment_maps>
	#include <lights_fragment_end>
	#include <aomap_fragment>
	vec3 outgoingLight = reflectedLight.directDiffuse + reflectedLight.indirectDiffuse + totalEmissiveRadiance;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
	#include <dithering_fragment>
}`,points_vert:`uniform float size;
uniform float scale;
#include <common>
#include <color_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
#ifdef USE_POINTS_UV
	varying vec2 vUv;
	uniform mat3 uvTransform;
#endif
void main() {
	#ifdef USE_POINTS_UV
		vUv = ( uvTransform * vec3( uv, 1 ) ).xy;
	#endif
	#include <color_vertex>
	#include <morphinstance_vertex>
	#include <morphcolor_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <project_vertex>
	gl_PointSize = size;
	#ifdef USE_SIZEATTENUATION
		bool isPerspective = isPerspectiveMatrix( projectionMatrix );
		if ( isPerspective ) gl_PointSize *= ( scale / - mvPosition.z );
	#endif
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <worldpos_vertex>
	#include <fog_vertex>
}`,points_frag:`uniform vec3 diffuse;
uniform float opacity;
#include <common>
#include <color_pars_fragment>
#include <map_particle_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <fog_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	vec3 outgoingLight = vec3( 0.0 );
	#include <logdepthbuf_fragment>
	#include <map_particle_fragment>
	#include <color_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	outgoingLight = diffuseColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
}`,shadow_vert:`#include <common>
#include <batching_pars_vertex>
#include <fog_pars_vertex>
#include <morphtarget_pars_vertex>
#include <skinning_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <shadowmap_pars_vertex>
void main() {
	#include <batching_vertex>
	#include <beginnormal_vertex>
	#include <morphinstance_vertex>
	#include <morphnormal_vertex>
	#include <skinbase_vertex>
	#include <skinnormal_vertex>
	#include <defaultnormal_vertex>
	#include <begin_vertex>
	#include <morphtarget_vertex>
	#include <skinning_vertex>
	#include <project_vertex>
	#include <logdepthbuf_vertex>
	#include <worldpos_vertex>
	#include <shadowmap_vertex>
	#include <fog_vertex>
}`,shadow_frag:`uniform vec3 color;
uniform float opacity;
#include <common>
#include <fog_pars_fragment>
#include <bsdfs>
#include <lights_pars_begin>
#include <logdepthbuf_pars_fragment>
#include <shadowmap_pars_fragment>
#include <shadowmask_pars_fragment>
void main() {
	#include <logdepthbuf_fragment>
	gl_FragColor = vec4( color, opacity * ( 1.0 - getShadowMask() ) );
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
	#include <premultiplied_alpha_fragment>
}`,sprite_vert:`uniform float rotation;
uniform vec2 center;
#include <common>
#include <uv_pars_vertex>
#include <fog_pars_vertex>
#include <logdepthbuf_pars_vertex>
#include <clipping_planes_pars_vertex>
void main() {
	#include <uv_vertex>
	vec4 mvPosition = modelViewMatrix[ 3 ];
	vec2 scale = vec2( length( modelMatrix[ 0 ].xyz ), length( modelMatrix[ 1 ].xyz ) );
	#ifndef USE_SIZEATTENUATION
		bool isPerspective = isPerspectiveMatrix( projectionMatrix );
		if ( isPerspective ) scale *= - mvPosition.z;
	#endif
	vec2 alignedPosition = ( position.xy - ( center - vec2( 0.5 ) ) ) * scale;
	vec2 rotatedPosition;
	rotatedPosition.x = cos( rotation ) * alignedPosition.x - sin( rotation ) * alignedPosition.y;
	rotatedPosition.y = sin( rotation ) * alignedPosition.x + cos( rotation ) * alignedPosition.y;
	mvPosition.xy += rotatedPosition;
	gl_Position = projectionMatrix * mvPosition;
	#include <logdepthbuf_vertex>
	#include <clipping_planes_vertex>
	#include <fog_vertex>
}`,sprite_frag:`uniform vec3 diffuse;
uniform float opacity;
#include <common>
#include <uv_pars_fragment>
#include <map_pars_fragment>
#include <alphamap_pars_fragment>
#include <alphatest_pars_fragment>
#include <alphahash_pars_fragment>
#include <fog_pars_fragment>
#include <logdepthbuf_pars_fragment>
#include <clipping_planes_pars_fragment>
void main() {
	vec4 diffuseColor = vec4( diffuse, opacity );
	#include <clipping_planes_fragment>
	vec3 outgoingLight = vec3( 0.0 );
	#include <logdepthbuf_fragment>
	#include <map_fragment>
	#include <alphamap_fragment>
	#include <alphatest_fragment>
	#include <alphahash_fragment>
	outgoingLight = diffuseColor.rgb;
	#include <opaque_fragment>
	#include <tonemapping_fragment>
	#include <colorspace_fragment>
	#include <fog_fragment>
}`},$={common:{diffuse:{value:new cs(16777215)},opacity:{value:1},map:{value:null},mapTransform:{value:new ao},alphaMap:{value:null},alphaMapTransform:{value:new ao},alphaTest:{value:0}},specularmap:{specularMap:{value:null},specularMapTransform:{value:new ao}},envmap:{envMap:{value:null},envMapRotation:{value:new ao},reflectivity:{value:1},ior:{value:1.5},refractionRatio:{value:.98},dfgLUT:{value:null}},aomap:{aoMap:{value:null},aoMapIntensity:{value:1},aoMapTransform:{value:new ao}},lightmap:{lightMap:{value:null},lightMapIntensity:{value:1},lightMapTransform:{value:new ao}},bumpmap:{bumpMap:{value:null},bumpMapTransform:{value:new ao},bumpScale:{value:1}},normalmap:{normalMap:{value:null},normalMapTransform:{value:new ao},normalScale:{value:new Z(1,1)}},displacementmap:{displacementMap:{value:null},displacementMapTransform:{value:new ao},displacementScale:{value:1},displacementBias:{value:0}},emissivemap:{emissiveMap:{value:null},emissiveMapTransform:{value:new ao}},metalnessmap:{metalnessMap:{value:null},metalnessMapTransform:{value:new ao}},roughnessmap:{roughnessMap:{value:null},roughnessMapTransform:{value:new ao}},gradientmap:{gradientMap:{value:null}},fog:{fogDensity:{value:25e-5},fogNear:{value:1},fogFar:{value:2e3},fogColor:{value:new cs(16777215)}},lights:{ambientLightColor:{value:[]},lightProbe:{value:[]},sunLights:{value:[],properties:{direction:{},color:{}}},sunLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{}}},sunShadowMatrix:{value:[]},sunShadowCascade:{value:[]},directionalLights:{value:[],properties:{direction:{},color:{}}},directionalLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{}}},directionalShadowMatrix:{value:[]},spotLights:{value:[],properties:{color:{},position:{},direction:{},distance:{},coneCos:{},penumbraCos:{},decay:{}}},spotLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{}}},spotLightMap:{value:[]},spotLightMatrix:{value:[]},pointLights:{value:[],properties:{color:{},position:{},decay:{},distance:{}}},pointLightShadows:{value:[],properties:{shadowIntensity:1,shadowBias:{},shadowNormalBias:{},shadowRadius:{},shadowMapSize:{},shadowCameraNear:{},shadowCameraFar:{}}},pointShadowMatrix:{value:[]},hemisphereLights:{value:[],properties:{direction:{},skyColor:{},groundColor:{}}},rectAreaLights:{value:[],properties:{color:{},position:{},width:{},height:{}}},ltc_1:{value:null},ltc_2:{value:null},probesSH:{value:[]},probesMin:{value:[]},probesMax:{value:[]},probesResolution:{value:[]}},points:{diffuse:{value:new cs(16777215)},opacity:{value:1},size:{value:1},scale:{value:1},map:{value:null},alphaMap:{value:null},alphaMapTransform:{value:new ao},alphaTest:{value:0},uvTransform:{value:new ao}},sprite:{diffuse:{value:new cs(16777215)},opacity:{value:1},center:{value:new Z(.5,.5)},rotation:{value:0},map:{value:null},mapTransform:{value:new ao},alphaMap:{value:null},alphaMapTransform:{value:new ao},alphaTest:{value:0}}},Zd={basic:{uniforms:Ru([$.common,$.specularmap,$.envmap,$.aomap,$.lightmap,$.fog]),vertexShader:Xd.meshbasic_vert,fragmentShader:Xd.meshbasic_frag},lambert:{uniforms:Ru([$.common,$.specularmap,$.envmap,$.aomap,$.lightmap,$.emissivemap,$.bumpmap,$.normalmap,$.displacementmap,$.fog,$.lights,{emissive:{value:new cs(0)},envMapIntensity:{value:1}}]),vertexShader:Xd.meshlambert_vert,fragmentShader:Xd.meshlambert_frag},phong:{uniforms:Ru([$.common,$.specularmap,$.envmap,$.aomap,$.lightmap,$.emissivemap,$.bumpmap,$.normalmap,$.displacementmap,$.fog,$.lights,{emissive:{value:new cs(0)},specular:{value:new cs(1118481)},shininess:{value:30},envMapIntensity:{value:1}}]),vertexShader:Xd.meshphong_vert,fragmentShader:Xd.meshphong_frag},standard:{uniforms:Ru([$.common,$.envmap,$.aomap,$.lightmap,$.emissivemap,$.bumpmap,$.normalmap,$.displacementmap,$.roughnessmap,$.metalnessmap,$.fog,$.lights,{emissive:{value:new cs(0)},roughness:{value:1},metalness:{value:0},envMapIntensity:{value:1}}]),vertexShader:Xd.meshphysical_vert,fragmentShader:Xd.meshphysical_frag},toon:{uniforms:Ru([$.common,$.aomap,$.lightmap,$.emissivemap,$.bumpmap,$.normalmap,$.displacementmap,$.gradientmap,$.fog,$.lights,{emissive:{value:new cs(0)}}]),vertexShader:Xd.meshtoon_vert,fragmentShader:Xd.meshtoon_frag},matcap:{uniforms:Ru([$.common,$.bumpmap,$.normalmap,$.displacementmap,$.fog,{matcap:{value:null}}]),vertexShader:Xd.meshmatcap_vert,fragmentShader:Xd.meshmatcap_frag},points:{uniforms:Ru([$.points,$.fog]),vertexShader:Xd.points_vert,fragmentShader:Xd.points_frag},dashed:{uniforms:Ru([$.common,$.fog,{scale:{value:1},dashSize:{value:1},totalSize:{value:2}}]),vertexShader:Xd.linedashed_vert,fragmentShader:Xd.linedashed_frag},depth:{uniforms:Ru([$.common,$.displacementmap]),vertexShader:Xd.depth_vert,fragmentShader:Xd.depth_frag},normal:{uniforms:Ru([$.common,$.bumpmap,$.normalmap,$.displacementmap,{opacity:{value:1}}]),vertexShader:Xd.meshnormal_vert,fragmentShader:Xd.meshnormal_frag},sprite:{uniforms:Ru([$.sprite,$.fog]),vertexShader:Xd.sprite_vert,fragmentShader:Xd.sprite_frag},background:{uniforms:{uvTransform:{value:new ao},t2D:{value:null},backgroundIntensity:{value:1}},vertexShader:Xd.background_vert,fragmentShader:Xd.background_frag},backgroundCube:{uniforms:{envMap:{value:null},backgroundBlurriness:{value:0},backgroundIntensity:{value:1},backgroundRotation:{value:new ao}},vertexShader:Xd.backgroundCube_vert,fragmentShader:Xd.backgroundCube_frag},cube:{uniforms:{tCube:{value:null},tFlip:{value:-1},opacity:{value:1}},vertexShader:Xd.cube_vert,fragmentShader:Xd.cube_frag},equirect:{uniforms:{tEquirect:{value:null}},vertexShader:Xd.equirect_vert,fragmentShader:Xd.equirect_frag},distance:{uniforms:Ru([$.common,$.displacementmap,{referencePosition:{value:new Q},nearDistance:{value:1},farDistance:{value:1e3}}]),vertexShader:Xd.distance_vert,fragmentShader:Xd.distance_frag},shadow:{uniforms:Ru([$.lights,$.fog,{color:{value:new cs(0)},opacity:{value:1}}]),vertexShader:Xd.shadow_vert,fragmentShader:Xd.shadow_frag}};Zd.physical={uniforms:Ru([Zd.standard.uniforms,{clearcoat:{value:0},clearcoatMap:{value:null},clearcoatMapTransform:{value:new ao},clearcoatNormalMap:{value:null},clearcoatNormalMapTransform:{value:new ao},clearcoatNormalScale:{value:new Z(1,1)},clearcoatRoughness:{value:0},clearcoatRoughnessMap:{value:null},clearcoatRoughnessMapTransform:{value:new ao},diffuseRoughness:{value:0},diffuseRoughnessMap:{value:null},diffuseRoughnessMapTransform:{value:new ao},dispersion:{value:0},retroreflectivity:{value:0},iridescence:{value:0},iridescenceMap:{value:null},iridescenceMapTransform:{value:new ao},iridescenceIOR:{value:1.3},iridescenceThicknessMinimum:{value:100},iridescenceThicknessMaximum:{value:400},iridescenceThicknessMap:{value:null},iridescenceThicknessMapTransform:{value:new ao},sheen:{value:0},sheenColor:{value:new cs(0)},sheenColorMap:{value:null},sheenColorMapTransform:{value:new ao},sheenRoughness:{value:1},sheenRoughnessMap:{value:null},sheenRoughnessMapTransform:{value:new ao},transmission:{value:0},transmissionMap:{value:null},transmissionMapTransform:{value:new ao},transmissionSamplerSize:{value:new Z},transmissionSamplerMap:{value:null},thickness:{value:0},thicknessMap:{value:null},thicknessMapTransform:{value:new ao},attenuationDistance:{value:0},attenuationColor:{value:new cs(0)},specularColor:{value:new cs(1,1,1)},specularColorMap:{value:null},specularColorMapTransform:{value:new ao},specularIntensity:{value:1},specularIntensityMap:{value:null},specularIntensityMapTransform:{value:new ao},anisotropyVector:{value:new Z},anisotropyMap:{value:null},anisotropyMapTransform:{value:new ao}}]),vertexShader:Xd.meshphysical_vert,fragmentShader:Xd.meshphysical_frag};var Qd={r:0,b:0,g:0},$d=new Do,ef=new ao;ef.set(-1,0,0,0,1,0,0,0,1);function tf(e,t,n,r,i,a){let o=new cs(0),s=i===!0?0:1,c,l,u=null,d=0,f=null;function p(e){let n=e.isScene===!0?e.background:null;if(n&&n.isTexture){let r=e.backgroundBlurriness>0;n=t.get(n,r)}return n}function m(t){let r=!1,i=p(t);i===null?g(o,s):i&&i.isColor&&(g(i,1),r=!0);let c=e.xr.getEnvironmentBlendMode();c===`additive`?n.buffers.color.setClear(0,0,0,1,a):c===`alpha-blend`&&n.buffers.color.setClear(0,0,0,0,a),(e.autoClear||r)&&(n.buffers.depth.setTest(!0),n.buffers.depth.setMask(!0),n.buffers.color.setMask(!0),e.clear(e.autoClearColor,e.autoClearDepth,e.autoClearStencil))}function h(t,n){let i=p(n);i&&i.isCubeTexture?(l===void 0&&(l=new Nc(new pl(1,1,1),new Gu({name:`BackgroundCubeMaterial`,uniforms:Lu(Zd.backgroundCube.uniforms),vertexShader:Zd.backgroundCube.vertexShader,fragmentShader:Zd.backgroundCube.fragmentShader,side:1,depthTest:!1,depthWrite:!1,fog:!1,allowOverride:!1})),l.geometry.deleteAttribute(`normal`),l.geometry.deleteAttribute(`uv`),l.onBeforeRender=function(e,t,n){this.matrixWorld.copyPosition(n.matrixWorld)},Object.defineProperty(l.material,"envMap",{get:function(){return this.uniforms.envMap.value}}),r.update(l)),l.material.uniforms.envMap.value=i,l.material.uniforms.backgroundBlurriness.value=n.backgroundBlurriness,l.material.uniforms.backgroundIntensity.value=n.backgroundIntensity,l.material.uniforms.backgroundRotation.value.setFromMatrix4($d.makeRotationFromEuler(n.backgroundRotation)).transpose(),i.isRenderTargetTexture===!1&&l.material.uniforms.backgroundRotation.value.premultiply(ef),l.material.toneMapped=uo.getTransfer(i.colorSpace)!==fa,(u!==i||d!==i.version||f!==e.toneMapping)&&(l.material.needsUpdate=!0,u=i,d=i.version,f=e.toneMapping),l.layers.enableAll(),t.unshift(l,l.geometry,l.material,0,0,null)):i&&i.isTexture&&(c===void 0&&(c=new Nc(new Iu(2,2),new Gu({name:`BackgroundMaterial`,uniforms:Lu(Zd.background.uniforms),vertexShader:Zd.background.vertexShader,fragmentShader:Zd.background.fragmentShader,side:0,depthTest:!1,depthWrite:!1,fog:!1,allowOverride:!1})),c.geometry.deleteAttribute(`normal`),Object.defineProperty(c.material,"map",{get:function(){return this.uniforms.t2D.value}}),r.update(c)),c.material.uniforms.t2D.value=i,c.material.uniforms.backgroundIntensity.value=n.backgroundIntensity,c.material.toneMapped=uo.getTransfer(i.colorSpace)!==fa,i.matrixAutoUpdate===!0&&i.updateMatrix(),c.material.uniforms.uvTransform.value.copy(i.matrix),(u!==i||d!==i.version||f!==e.toneMapping)&&(c.material.needsUpdate=!0,u=i,d=i.version,f=e.toneMapping),c.layers.enableAll(),t.unshift(c,c.geometry,c.material,0,0,null))}function g(t,r){t.getRGB(Qd,Vu(e)),n.buffers.color.setClear(Qd.r,Qd.g,Qd.b,r,a)}function _(){l!==void 0&&(l.geometry.dispose(),l.material.dispose(),l=void 0),c!==void 0&&(c.geometry.dispose(),c.material.dispose(),c=void 0)}return{getClearColor:function(){return o},setClearColor:function(e,t=1){o.set(e),s=t,g(o,s)},getClearAlpha:function(){return s},setClearAlpha:function(e){s=e,g(o,s)},render:m,addToRenderList:h,dispose:_}}function nf(e,t){let n=e.getParameter(e.MAX_VERTEX_ATTRIBS),r={},i=f(null),a=i,o=!1;function s(n,r,i,s,c){let u=!1,f=d(n,s,i,r);a!==f&&(a=f,l(a.object)),u=p(n,s,i,c),u&&m(n,s,i,c),c!==null&&t.update(c,e.ELEMENT_ARRAY_BUFFER),(u||o)&&(o=!1,b(n,r,i,s),c!==null&&e.bindBuffer(e.ELEMENT_ARRAY_BUFFER,t.get(c).buffer))}function c(){return e.createVertexArray()}function l(t){return e.bindVertexArray(t)}function u(t){return e.deleteVertexArray(t)}function d(e,t,n,i){let a=i.wireframe===!0,o=r[t.id];o===void 0&&(o={},r[t.id]=o);let s=e.isInstancedMesh===!0?e.id:0,l=o[s];l===void 0&&(l={},o[s]=l);let u=l[n.id];u===void 0&&(u={},l[n.id]=u);let d=u[a];return d===void 0&&(d=f(c()),u[a]=d),d}function f(e){let t=[],r=[],i=[];for(let e=0;e<n;e++)t[e]=0,r[e]=0,i[e]=0;return{geometry:null,program:null,wireframe:!1,newAttributes:t,enabledAttributes:r,attributeDivisors:i,object:e,attributes:{},index:null}}function p(e,t,n,r){let i=a.attributes,o=t.attributes,s=0,c=n.getAttributes();for(let t in c)if(c[t].location>=0){let n=i[t],r=o[t];if(r===void 0&&(t===`instanceMatrix`&&e.instanceMatrix&&(r=e.instanceMatrix),t===`instanceColor`&&e.instanceColor&&(r=e.instanceColor)),n===void 0||n.attribute!==r||r&&n.data!==r.data)return!0;s++}return a.attributesNum!==s||a.index!==r}function m(e,t,n,r){let i={},o=t.attributes,s=0,c=n.getAttributes();for(let t in c)if(c[t].location>=0){let n=o[t];n===void 0&&(t===`instanceMatrix`&&e.instanceMatrix&&(n=e.instanceMatrix),t===`instanceColor`&&e.instanceColor&&(n=e.instanceColor));let r={};r.attribute=n,n&&n.data&&(r.data=n.data),i[t]=r,s++}a.attributes=i,a.attributesNum=s,a.index=r}function h(){let e=a.newAttributes;for(let t=0,n=e.length;t<n;t++)e[t]=0}function g(e){_(e,0)}function _(t,n){let r=a.newAttributes,i=a.enabledAttributes,o=a.attributeDivisors;r[t]=1,i[t]===0&&(e.enableVertexAttribArray(t),i[t]=1),o[t]!==n&&(e.vertexAttribDivisor(t,n),o[t]=n)}function v(){let t=a.newAttributes,n=a.enabledAttributes;for(let r=0,i=n.length;r<i;r++)n[r]!==t[r]&&(e.disableVertexAttribArray(r),n[r]=0)}function y(t,n,r,i,a,o,s){s===!0?e.vertexAttribIPointer(t,n,r,a,o):e.vertexAttribPointer(t,n,r,i,a,o)}function b(n,r,i,a){h();let o=a.attributes,s=i.getAttributes(),c=r.defaultAttributeValues;for(let r in s){let i=s[r];if(i.location>=0){let s=o[r];if(s===void 0&&(r===`instanceMatrix`&&n.instanceMatrix&&(s=n.instanceMatrix),r===`instanceColor`&&n.instanceColor&&(s=n.instanceColor)),s!==void 0){let r=s.normalized,o=s.itemSize,c=t.get(s);if(c===void 0)continue;let l=c.buffer,u=c.type,d=c.bytesPerElement,f=u===e.INT||u===e.UNSIGNED_INT||s.gpuType===1013;if(s.isInterleavedBufferAttribute){let t=s.data,c=t.isInterleavedBuffer===!0?t.stride:t.itemSize,p=s.offset;if(t.isInstancedInterleavedBuffer||t.isInstancedBufferAttribute){for(let e=0;e<i.locationSize;e++)_(i.location+e,t.meshPerAttribute);n.isInstancedMesh!==!0&&a._maxInstanceCount===void 0&&(a._maxInstanceCount=t.meshPerAttribute*t.count)}else for(let e=0;e<i.locationSize;e++)g(i.location+e);e.bindBuffer(e.ARRAY_BUFFER,l);for(let e=0;e<i.locationSize;e++)y(i.location+e,o/i.locationSize,u,r,c*d,(p+o/i.locationSize*e)*d,f)}else{if(s.isInstancedBufferAttribute){for(let e=0;e<i.locationSize;e++)_(i.location+e,s.meshPerAttribute);n.isInstancedMesh!==!0&&a._maxInstanceCount===void 0&&(a._maxInstanceCount=s.meshPerAttribute*s.count)}else for(let e=0;e<i.locationSize;e++)g(i.location+e);e.bindBuffer(e.ARRAY_BUFFER,l);for(let e=0;e<i.locationSize;e++)y(i.location+e,o/i.locationSize,u,r,o*d,o/i.locationSize*e*d,f)}}else if(c!==void 0){let t=c[r];if(t!==void 0)switch(t.length){case 2:e.vertexAttrib2fv(i.location,t);break;case 3:e.vertexAttrib3fv(i.location,t);break;case 4:e.vertexAttrib4fv(i.location,t);break;default:e.vertexAttrib1fv(i.location,t)}}}}v()}function x(){T();for(let e in r){let t=r[e];for(let e in t){let n=t[e];for(let e in n){let t=n[e];for(let e in t)u(t[e].object),delete t[e];delete n[e]}}delete r[e]}}function S(e){if(r[e.id]===void 0)return;let t=r[e.id];for(let e in t){let n=t[e];for(let e in n){let t=n[e];for(let e in t)u(t[e].object),delete t[e];delete n[e]}}delete r[e.id]}function C(e){for(let t in r){let n=r[t];for(let t in n){let r=n[t];if(r[e.id]===void 0)continue;let i=r[e.id];for(let e in i)u(i[e].object),delete i[e];delete r[e.id]}}}function w(e){for(let t in r){let n=r[t],i=e.isInstancedMesh===!0?e.id:0,a=n[i];if(a!==void 0){for(let e in a){let t=a[e];for(let e in t)u(t[e].object),delete t[e];delete a[e]}delete n[i],Object.keys(n).length===0&&delete r[t]}}}function T(){E(),o=!0,a!==i&&(a=i,l(a.object))}function E(){i.geometry=null,i.program=null,i.wireframe=!1}return{setup:s,reset:T,resetDefaultState:E,dispose:x,releaseStatesOfGeometry:S,releaseStatesOfObject:w,releaseStatesOfProgram:C,initAttributes:h,enableAttribute:g,disableUnusedAttributes:v}}function rf(e,t,n){let r;function i(e){r=e}function a(t,i){e.drawArrays(r,t,i),n.update(i,r,1)}function o(t,i,a){a!==0&&(e.drawArraysInstanced(r,t,i,a),n.update(i,r,a))}function s(e,i,a){if(a===0)return;t.get(`WEBGL_multi_draw`).multiDrawArraysWEBGL(r,e,0,i,0,a);let o=0;for(let e=0;e<a;e++)o+=i[e];n.update(o,r,1)}this.setMode=i,this.render=a,this.renderInstances=o,this.renderMultiDraw=s}function af(e,t,n,r){let i;function a(){if(i!==void 0)return i;if(t.has(`EXT_texture_filter_anisotropic`)===!0){let n=t.get(`EXT_texture_filter_anisotropic`);i=e.getParameter(n.MAX_TEXTURE_MAX_ANISOTROPY_EXT)}else i=0;return i}function o(t){return t===1023||r.convert(t)===e.getParameter(e.IMPLEMENTATION_COLOR_READ_FORMAT)}function s(n){let i=n===1016&&(t.has(`EXT_color_buffer_half_float`)||t.has(`EXT_color_buffer_float`));return!(n!==1009&&n!==1015&&!i&&r.convert(n)!==e.getParameter(e.IMPLEMENTATION_COLOR_READ_TYPE))}function c(t){if(t===`highp`){if(e.getShaderPrecisionFormat(e.VERTEX_SHADER,e.HIGH_FLOAT).precision>0&&e.getShaderPrecisionFormat(e.FRAGMENT_SHADER,e.HIGH_FLOAT).precision>0)return`highp`;t=`mediump`}return t===`mediump`&&e.getShaderPrecisionFormat(e.VERTEX_SHADER,e.MEDIUM_FLOAT).precision>0&&e.getShaderPrecisionFormat(e.FRAGMENT_SHADER,e.MEDIUM_FLOAT).precision>0?`mediump`:`lowp`}let l=n.precision===void 0?`highp`:n.precision,u=c(l);u!==l&&(X(`WebGLRenderer:`,l,`not supported, using`,u,`instead.`),l=u);let d=n.reversedDepthBuffer===!0&&t.has(`EXT_clip_control`),f=n.logarithmicDepthBuffer===!0&&d===!1;n.reversedDepthBuffer===!0&&d===!1&&X(`WebGLRenderer: Unable to use reversed depth buffer due to missing EXT_clip_control extension. Fallback to default depth buffer.`),n.logarithmicDepthBuffer===!0&&d===!0&&X(`WebGLRenderer: Logarithmic depth buffer is ignored when reversed depth buffer is enabled.`);let p=e.getParameter(e.MAX_TEXTURE_IMAGE_UNITS),m=e.getParameter(e.MAX_VERTEX_TEXTURE_IMAGE_UNITS),h=e.getParameter(e.MAX_TEXTURE_SIZE),g=e.getParameter(e.MAX_CUBE_MAP_TEXTURE_SIZE),_=e.getParameter(e.MAX_VERTEX_ATTRIBS),v=e.getParameter(e.MAX_VERTEX_UNIFORM_VECTORS),y=e.getParameter(e.MAX_VARYING_VECTORS),b=e.getParameter(e.MAX_FRAGMENT_UNIFORM_VECTORS),x=e.getParameter(e.MAX_SAMPLES),S=e.getParameter(e.SAMPLES);return{isWebGL2:!0,getMaxAnisotropy:a,getMaxPrecision:c,textureFormatReadable:o,textureTypeReadable:s,precision:l,logarithmicDepthBuffer:f,reversedDepthBuffer:d,maxTextures:p,maxVertexTextures:m,maxTextureSize:h,maxCubemapSize:g,maxAttributes:_,maxVertexUniforms:v,maxVaryings:y,maxFragmentUniforms:b,maxSamples:x,samples:S}}function of(e){let t=this,n=null,r=0,i=!1,a=!1,o=new pc,s=new ao,c={value:null,needsUpdate:!1};this.uniform=c,this.numPlanes=0,this.numIntersection=0,this.init=function(e,t){let n=e.length!==0||t||r!==0||i;return i=t,r=e.length,n},this.beginShadows=function(){a=!0,u(null)},this.endShadows=function(){a=!1},this.setGlobalState=function(e,t){n=u(e,t,0)},this.setState=function(t,o,s){let d=t.clippingPlanes,f=t.clipIntersection,p=t.clipShadows,m=e.get(t);if(!i||d===null||d.length===0||a&&!p)a?u(null):l();else{let e=a?0:r,t=e*4,i=m.clippingState||null;c.value=i,i=u(d,o,t,s);for(let e=0;e!==t;++e)i[e]=n[e];m.clippingState=i,this.numIntersection=f?this.numPlanes:0,this.numPlanes+=e}};function l(){c.value!==n&&(c.value=n,c.needsUpdate=r>0),t.numPlanes=r,t.numIntersection=0}function u(e,n,r,i){let a=e===null?0:e.length,l=null;if(a!==0){if(l=c.value,i!==!0||l===null){let t=r+a*4,i=n.matrixWorldInverse;s.getNormalMatrix(i),(l===null||l.length<t)&&(l=new Float32Array(t));for(let t=0,n=r;t!==a;++t,n+=4)o.copy(e[t]).applyMatrix4(i,s),o.normal.toArray(l,n),l[n+3]=o.constant}c.value=l,c.needsUpdate=!0}return t.numPlanes=a,t.numIntersection=0,l}}var sf=class extends wo{constructor(e=1,t={}){super(e,e,t),this.isWebGLCubeRenderTarget=!0;let n={width:e,height:e,depth:1},r=[n,n,n,n,n,n];this.texture=new ll(r),this._setTextureOptions(t),this.texture.isRenderTargetTexture=!0}fromEquirectangularTexture(e,t){this.texture.type=t.type,this.texture.colorSpace=t.colorSpace,this.texture.generateMipmaps=t.generateMipmaps,this.texture.minFilter=t.minFilter,this.texture.magFilter=t.magFilter;let n={uniforms:{tEquirect:{value:null}},vertexShader:`

				varying vec3 vWorldDirection;

				vec3 transformDirection( in vec3 dir, in mat4 matrix ) {

					return normalize( ( matrix * vec4( dir, 0.0 ) ).xyz );

				}

				void main() {

					vWorldDirection = transformDirection( position, modelMatrix );

					#include <begin_vertex>
					#include <project_vertex>

				}
			`,fragmentShader:`

				uniform sampler2D tEquirect;

				varying vec3 vWorldDirection;

				#include <common>

				void main() {

					vec3 direction = normalize( vWorldDirection );

					vec2 sampleUV = equirectUv( direction );

					gl_FragColor = texture2D( tEquirect, sampleUV );

				}
			`},r=new pl(5,5,5),i=new Gu({name:`CubemapFromEquirect`,uniforms:Lu(n.uniforms),vertexShader:n.vertexShader,fragmentShader:n.fragmentShader,side:1,blending:0});i.uniforms.tEquirect.value=t;let a=new Nc(r,i),o=t.minFilter;return t.minFilter===1008&&(t.minFilter=qr),new Ed(1,10,this).update(e,a),t.minFilter=o,a.geometry.dispose(),a.material.dispose(),this}clear(e,t=!0,n=!0,r=!0){let i=e.getRenderTarget();for(let i=0;i<6;i++)e.setRenderTarget(this,i),e.clear(t,n,r);e.setRenderTarget(i)}},cf=256,lf=3,uf=20,df=256,ff=16,pf=3,mf=new Q,hf=new cs,gf=class e{constructor(e){this._renderer=e,this._cubeSize=0,this._sourceTarget=null,this._cubeCamera=new Ed(1,10,null),this._boxMesh=new Nc(new pl(5,5,5),null),this._cubemapMaterial=null,this._equirectMaterial=null,this._blurMaterial=null,this._ggxMaterial=null,this._integrationMaterial=null}fromScene(e,t=0,n=.1,r=100,i={}){let{size:a=256,position:o=mf}=i,s=this._renderer;this._setSize(a);let c=this._allocateTarget(),l=this._getSourceTarget(!0);t>0&&(l.texture.mipmapsAutoUpdate=!1);let u=s.autoClear,d=s.autoClearColor,f=s.autoClearDepth,p=s.autoClearStencil,m=e.background;s.autoClear=!0,s.autoClearColor=!0,s.autoClearDepth=!0,s.autoClearStencil=!0,m===null&&(e.background=s.getClearColor(hf));let h=new Ed(n,r,l);return h.position.copy(o),h.update(s,e),s.autoClear=u,s.autoClearColor=d,s.autoClearDepth=f,s.autoClearStencil=p,e.background=m,t>0&&(l.texture.mipmapsAutoUpdate=!0,this._blur(c,t)),this._applyPMREM(c),c}fromEquirectangular(e,t=null){return this._fromTexture(e,t)}fromCubemap(e,t=null){return this._fromTexture(e,t)}compileCubemapShader(){this._cubemapMaterial===null&&(this._cubemapMaterial=Cf(),this._compileMaterial(this._cubemapMaterial))}compileEquirectangularShader(){this._equirectMaterial===null&&(this._equirectMaterial=Sf(),this._compileMaterial(this._equirectMaterial))}dispose(){this._sourceTarget!==null&&this._sourceTarget.dispose(),this._cubemapMaterial!==null&&this._cubemapMaterial.dispose(),this._equirectMaterial!==null&&this._equirectMaterial.dispose(),this._blurMaterial!==null&&this._blurMaterial.dispose(),this._ggxMaterial!==null&&this._ggxMaterial.dispose(),this._integrationMaterial!==null&&this._integrationMaterial.dispose(),this._boxMesh.geometry.dispose()}static lodToRoughness(e,t){return t>0?1-Math.sqrt(1-e/t):0}_setSize(e){this._cubeSize=Math.max(cf,Xa(e))}_fromTexture(e,t){e.mapping===301||e.mapping===302?this._setSize(e.image.length===0?cf:e.image[0].width||e.image[0].image.width):this._setSize(e.image.width/4);let n=t||this._allocateTarget();return this._textureToCubemap(e),this._applyPMREM(n),n}_allocateTarget(){let e=this._cubeSize,t=_f(e,!1,!1),n=Math.log2(e)-lf;for(let r=0;r<=n;r++)t.texture.mipmaps.push({width:e>>r,height:e>>r});return t.texture.name=`PMREM`,t.texture.isPMREMTexture=!0,t}_getSourceTarget(e=!1){let t=this._cubeSize,n=this._sourceTarget;return(n===null||n.width!==t||e&&n.depthBuffer===!1)&&(n!==null&&n.dispose(),this._sourceTarget=_f(t,!0,e)),this._sourceTarget}_compileMaterial(e){this._boxMesh.material=e,this._renderer.compile(this._boxMesh,this._cubeCamera.children[0])}_renderCube(e,t,n){let r=this._boxMesh,i=this._cubeCamera;r.material=n,i.renderTarget=e,i.activeMipmapLevel=t;let a=e.width>>t;e.viewport.set(0,0,a,a),i.update(this._renderer,r),e.viewport.set(0,0,e.width,e.height)}_textureToCubemap(e){let t;e.mapping===301||e.mapping===302?(this._cubemapMaterial===null&&(this._cubemapMaterial=Cf()),t=this._cubemapMaterial,t.uniforms.flipEnvMap.value=e.isRenderTargetTexture===!1?-1:1):(this._equirectMaterial===null&&(this._equirectMaterial=Sf()),t=this._equirectMaterial),t.uniforms.envMap.value=e,this._renderCube(this._getSourceTarget(),0,t)}_applyPMREM(t){this._ggxMaterial===null&&(this._ggxMaterial=yf(),this._integrationMaterial=bf());let n=this._cubeSize,r=t.texture.mipmaps.length-1,i=this._ggxMaterial.uniforms;i.envMap.value=this._sourceTarget.texture;let a=this._integrationMaterial.uniforms;a.envMap.value=this._sourceTarget.texture,a.sourceLod.value=Math.log2(n/ff);for(let o=0;o<=r;o++){let s=e.lodToRoughness(o,r);if(o>r-pf)a.roughness.value=s,this._renderCube(t,o,this._integrationMaterial);else{let e=s>0?Math.log2(n)+.5*Math.log2(6/(df*s**4))+.5:0;i.roughness.value=s,i.lodBias.value=e,this._renderCube(t,o,this._ggxMaterial)}}}_blur(e,t){this._blurMaterial===null&&(this._blurMaterial=xf());let n=this._blurMaterial,r=n.uniforms,i=this._sourceTarget;r.sigma.value=Math.min(t,Math.PI)/Math.SQRT2,r.envMap.value=i.texture,this._renderCube(e,0,n),r.envMap.value=e.texture,this._renderCube(i,0,n)}};function _f(e,t,n){return new sf(e,{minFilter:Yr,generateMipmaps:t,type:ri,colorSpace:ua,depthBuffer:n})}function vf(e,t,n){return new Gu({name:e,uniforms:t,vertexShader:Xd.cube_vert,fragmentShader:n,side:1,blending:0,depthTest:!1,depthWrite:!1})}function yf(){return vf(`PMREMGGXConvolution`,{envMap:{value:null},roughness:{value:0},lodBias:{value:0}},`

		#define GGX_SAMPLES ${df}u

		varying vec3 vWorldDirection;

		uniform samplerCube envMap;
		uniform float roughness;
		uniform float lodBias;

		#include <common>

		// Van der Corput radical inverse
		float radicalInverse_VdC( uint bits ) {

			bits = ( bits << 16u ) | ( bits >> 16u );
			bits = ( ( bits & 0x55555555u ) << 1u ) | ( ( bits & 0xAAAAAAAAu ) >> 1u );
			bits = ( ( bits & 0x33333333u ) << 2u ) | ( ( bits & 0xCCCCCCCCu ) >> 2u );
			bits = ( ( bits & 0x0F0F0F0Fu ) << 4u ) | ( ( bits & 0xF0F0F0F0u ) >> 4u );
			bits = ( ( bits & 0x00FF00FFu ) << 8u ) | ( ( bits & 0xFF00FF00u ) >> 8u );
			return float( bits ) * 2.3283064365386963e-10; // / 0x100000000

		}

		// Hammersley sequence
		vec2 hammersley( uint i, uint N ) {

			return vec2( float( i ) / float( N ), radicalInverse_VdC( i ) );

		}

		void main() {

			vec3 N = normalize( vWorldDirection );

			// For very low roughness, just sample the environment directly
			if ( roughness < 0.001 ) {

				gl_FragColor = vec4( textureLod( envMap, N, 0.0 ).rgb, 1.0 );
				return;

			}

			float alpha = roughness * roughness;
			float alpha2 = alpha * alpha;

			// Tangent space basis for VNDF sampling
			vec3 up = abs( N.z ) < 0.999 ? vec3( 0.0, 0.0, 1.0 ) : vec3( 1.0, 0.0, 0.0 );
			vec3 tangent = normalize( cross( up, N ) );
			vec3 bitangent = cross( N, tangent );

			vec3 prefilteredColor = vec3( 0.0 );
			float totalWeight = 0.0;

			for ( uint i = 0u; i < GGX_SAMPLES; i ++ ) {

				vec2 Xi = hammersley( i, GGX_SAMPLES );

				// With V = N, sample the reflected direction directly.
				float invQ = 1.0 / ( 1.0 - Xi.x + alpha2 * Xi.x );
				float NdotL = ( 1.0 - Xi.x - alpha2 * Xi.x ) * invQ;

				if ( NdotL > 0.0 ) {

					float phi = 2.0 * PI * Xi.y;
					float sinTheta = 2.0 * alpha * sqrt( Xi.x * ( 1.0 - Xi.x ) ) * invQ;
					vec3 L = N * NdotL + ( tangent * cos( phi ) + bitangent * sin( phi ) ) * sinTheta;

					// Match the source mip to the sample's solid angle. The terms
					// independent of the sample are precomputed in lodBias.
					float d = alpha2 * invQ;
					float lod = max( log2( d ) + lodBias, 0.0 );

					// Weight by NdotL for the split-sum approximation
					prefilteredColor += textureLod( envMap, L, lod ).rgb * NdotL;
					totalWeight += NdotL;

				}

			}

			gl_FragColor = vec4( prefilteredColor / totalWeight, 1.0 );

		}
	`)}function bf(){return vf(`PMREMGGXIntegration`,{envMap:{value:null},roughness:{value:0},sourceLod:{value:0},sourceSize:{value:ff}},`

		varying vec3 vWorldDirection;

		uniform samplerCube envMap;
		uniform float roughness;
		uniform float sourceLod;
		uniform int sourceSize;

		void main() {

			vec3 N = normalize( vWorldDirection );

			float alpha = roughness * roughness;
			float alpha2 = alpha * alpha;

			float texelSize = 2.0 / float( sourceSize );

			vec3 prefilteredColor = vec3( 0.0 );
			float totalWeight = 0.0;

			// Pair opposite texels: only the one in N's hemisphere contributes.
			for ( int face = 0; face < 3; face ++ ) {

				for ( int y = 0; y < sourceSize; y ++ ) {

					for ( int x = 0; x < sourceSize; x ++ ) {

						vec2 uv = ( vec2( x, y ) + 0.5 ) * texelSize - 1.0;
						vec3 texelDirection = face == 0 ? vec3( 1.0, uv ) : ( face == 1 ? vec3( uv.x, 1.0, uv.y ) : vec3( uv, 1.0 ) );

						float invDistance = inversesqrt( 1.0 + dot( uv, uv ) );
						float NdotL = dot( N, texelDirection );
						texelDirection *= NdotL < 0.0 ? - 1.0 : 1.0;
						NdotL = abs( NdotL ) * invDistance;

						// With V = N, NdotH squared is ( 1 + NdotL ) / 2. Common factors
						// in the GGX distribution and texel solid angle cancel when normalized.
						float d = 1.0 + alpha2 + ( alpha2 - 1.0 ) * NdotL;
						float weight = NdotL * invDistance * invDistance * invDistance / ( d * d );

						prefilteredColor += textureLod( envMap, texelDirection, sourceLod ).rgb * weight;
						totalWeight += weight;

					}

				}

			}

			gl_FragColor = vec4( prefilteredColor / totalWeight, 1.0 );

		}
	`)}function xf(){return vf(`PMREMSphericalGaussianBlur`,{envMap:{value:null},sigma:{value:0}},`

		#define SAMPLES ${uf}
		#define GOLDEN_ANGLE 2.39996322973

		varying vec3 vWorldDirection;

		uniform samplerCube envMap;
		uniform float sigma;

		#include <common>

		void main() {

			vec3 outputDirection = normalize( vWorldDirection );

			vec3 up = abs( outputDirection.z ) < 0.999 ? vec3( 0.0, 0.0, 1.0 ) : vec3( 1.0, 0.0, 0.0 );
			vec3 tangent = normalize( cross( up, outputDirection ) );
			vec3 bitangent = cross( outputDirection, tangent );

			// Truncate the kernel at three standard deviations or at the antipode.
			float thetaMax = min( 3.0 * sigma, PI );
			float truncation = 1.0 - exp( - 0.5 * thetaMax * thetaMax / ( sigma * sigma ) );

			vec3 accumColor = vec3( 0.0 );
			float accumWeight = 0.0;

			for ( int i = 0; i < SAMPLES; i ++ ) {

				// Stratified inverse-CDF sampling of the Gaussian, placed on a golden-angle spiral.
				float stratum = ( float( i ) + 0.5 ) / float( SAMPLES );
				float theta = sigma * sqrt( - 2.0 * log( 1.0 - stratum * truncation ) );
				float phi = float( i ) * GOLDEN_ANGLE;

				vec3 offset = cos( phi ) * tangent + sin( phi ) * bitangent;
				vec3 sampleDirection = cos( theta ) * outputDirection + sin( theta ) * offset;

				// Correct the planar sample density to solid angle.
				float weight = sin( theta ) / theta;

				accumColor += weight * textureLod( envMap, sampleDirection, 0.0 ).rgb;
				accumWeight += weight;

			}

			gl_FragColor = vec4( accumColor / accumWeight, 1.0 );

		}
	`)}function Sf(){return vf(`PMREMEquirectangularToCubemap`,{envMap:{value:null}},`

		varying vec3 vWorldDirection;

		uniform sampler2D envMap;

		#include <common>

		void main() {

			// Average four subpixel samples to preserve small, bright features.
			vec3 direction = normalize( vWorldDirection );
			vec3 dx = dFdx( direction ) * 0.25;
			vec3 dy = dFdy( direction ) * 0.25;

			vec3 color = textureLod( envMap, equirectUv( normalize( direction - dx - dy ) ), 0.0 ).rgb;
			color += textureLod( envMap, equirectUv( normalize( direction + dx - dy ) ), 0.0 ).rgb;
			color += textureLod( envMap, equirectUv( normalize( direction - dx + dy ) ), 0.0 ).rgb;
			color += textureLod( envMap, equirectUv( normalize( direction + dx + dy ) ), 0.0 ).rgb;
			gl_FragColor = vec4( color * 0.25, 1.0 );

		}
	`)}function Cf(){return vf(`PMREMCubemapToCubemap`,{envMap:{value:null},flipEnvMap:{value:-1}},`

		varying vec3 vWorldDirection;

		uniform samplerCube envMap;
		uniform float flipEnvMap;

		void main() {

			gl_FragColor = vec4( textureCube( envMap, vec3( flipEnvMap * vWorldDirection.x, vWorldDirection.yz ) ).rgb, 1.0 );

		}
	`)}function wf(e){let t=new WeakMap,n=new WeakMap,r=null;function i(e,t=!1){return e==null?null:t?o(e):a(e)}function a(n){if(n&&n.isTexture){let r=n.mapping;if(r===303||r===304){if(t.has(n)){let e=t.get(n).texture;return s(e,n.mapping)}{let r=n.image;if(r&&r.height>0){let i=new sf(r.height);return i.fromEquirectangularTexture(e,n),t.set(n,i),n.addEventListener(`dispose`,l),s(i.texture,n.mapping)}return null}}}return n}function o(t){if(t&&t.isTexture&&t.isPMREMTexture!==!0){let i=t.mapping,a=i===303||i===304,o=i===301||i===302;if(a||o){let i=n.get(t),s=i===void 0?0:i.texture.pmremVersion;if(t.isRenderTargetTexture&&t.pmremVersion!==s)return r===null&&(r=new gf(e)),i=a?r.fromEquirectangular(t,i):r.fromCubemap(t,i),i.texture.pmremVersion=t.pmremVersion,n.set(t,i),i.texture;if(i!==void 0)return i.texture;{let s=t.image;return a&&s&&s.height>0||o&&s&&c(s)?(r===null&&(r=new gf(e)),i=a?r.fromEquirectangular(t):r.fromCubemap(t),i.texture.pmremVersion=t.pmremVersion,n.set(t,i),t.addEventListener(`dispose`,u),i.texture):null}}}return t}function s(e,t){return t===303?e.mapping=301:t===304&&(e.mapping=302),e}function c(e){let t=0;for(let n=0;n<6;n++)e[n]!==void 0&&t++;return t===6}function l(e){let n=e.target;n.removeEventListener(`dispose`,l);let r=t.get(n);r!==void 0&&(t.delete(n),r.dispose())}function u(e){let t=e.target;t.removeEventListener(`dispose`,u);let r=n.get(t);r!==void 0&&(n.delete(t),r.dispose())}function d(){t=new WeakMap,n=new WeakMap,r!==null&&(r.dispose(),r=null)}return{get:i,dispose:d}}function Tf(e){let t={};function n(n){if(t[n]!==void 0)return t[n];let r=e.getExtension(n);return t[n]=r,r}return{has:function(e){return n(e)!==null},init:function(){n(`EXT_color_buffer_float`),n(`WEBGL_clip_cull_distance`),n(`OES_texture_float_linear`),n(`EXT_color_buffer_half_float`),n(`WEBGL_multisampled_render_to_texture`),n(`WEBGL_render_shared_exponent`)},get:function(e){let t=n(e);return t===null&&wa(`WebGLRenderer: `+e+` extension not supported.`),t}}}function Ef(e,t,n,r){let i={},a=new WeakMap,o=new FinalizationRegistry(e=>delete i[e]);function s(e){c(e.target)}function c(e){e.index!==null&&t.remove(e.index);for(let n in e.attributes)t.remove(e.attributes[n]);e.removeEventListener(`dispose`,s),delete i[e.id],o.unregister(e);let c=a.get(e);c&&(t.remove(c),a.delete(e)),r.releaseStatesOfGeometry(e),e.isInstancedBufferGeometry===!0&&delete e._maxInstanceCount,n.memory.geometries--}function l(e,t){return i[t.id]===void 0&&(t.addEventListener(`dispose`,s),i[t.id]=new WeakRef(t),o.register(t,t.id,t),n.memory.geometries++),t}function u(n){let r=n.attributes;for(let n in r)t.update(r[n],e.ARRAY_BUFFER)}function d(e){let n=e.index,r=e.attributes.position,i=0;if(r===void 0)return;let o=n===null?r.array.length/3-1:n.array.length,s=new(r.count>=65535?Xs:Ys)(Math.ceil(o/3)*6,1),c=s.array;if(n!==null){let e=n.array;i=n.version;for(let t=0,n=0;t<o;t+=3){let r=e[t+0],i=e[t+1],a=e[t+2];c[n++]=r,c[n++]=i,c[n++]=i,c[n++]=a,c[n++]=a,c[n++]=r}}else{i=r.version;for(let e=0,t=0;e<o;e+=3){let n=e+0,r=e+1,i=e+2;c[t++]=n,c[t++]=r,c[t++]=r,c[t++]=i,c[t++]=i,c[t++]=n}}s.version=i;let l=a.get(e);l&&t.remove(l),a.set(e,s)}function f(e){let t=a.get(e);if(t){let n=e.index;n!==null&&t.version<n.version&&d(e)}else d(e);return a.get(e)}function p(){for(let e in i){let t=i[e].deref();t!==void 0&&c(t)}}return{get:l,update:u,getWireframeAttribute:f,dispose:p}}function Df(e,t,n){let r;function i(e){r=e}let a,o;function s(e){a=e.type,o=e.bytesPerElement}function c(t,i){e.drawElements(r,i,a,t*o),n.update(i,r,1)}function l(t,i,s){s!==0&&(e.drawElementsInstanced(r,i,a,t*o,s),n.update(i,r,s))}function u(e,i,o){if(o===0)return;t.get(`WEBGL_multi_draw`).multiDrawElementsWEBGL(r,i,0,a,e,0,o);let s=0;for(let e=0;e<o;e++)s+=i[e];n.update(s,r,1)}this.setMode=i,this.setIndex=s,this.render=c,this.renderInstances=l,this.renderMultiDraw=u}function Of(e){let t={geometries:0,textures:0},n={frame:0,calls:0,triangles:0,points:0,lines:0};function r(t,r,i){switch(n.calls++,r){case e.TRIANGLES:n.triangles+=t/3*i;break;case e.LINES:n.lines+=t/2*i;break;case e.LINE_STRIP:n.lines+=i*(t-1);break;case e.LINE_LOOP:n.lines+=i*t;break;case e.POINTS:n.points+=i*t;break;default:Ca(`WebGLInfo: Unknown draw mode:`,r)}}function i(){n.calls=0,n.triangles=0,n.points=0,n.lines=0}return{memory:t,render:n,programs:null,autoReset:!0,reset:i,update:r}}function kf(e,t,n){let r=new WeakMap,i=new So;function a(a,o,s){let c=a.morphTargetInfluences,l=o.morphAttributes.position||o.morphAttributes.normal||o.morphAttributes.color,u=l===void 0?0:l.length,d=r.get(o);if(d===void 0||d.count!==u){d!==void 0&&d.texture.dispose();let e=o.morphAttributes.position!==void 0,n=o.morphAttributes.normal!==void 0,a=o.morphAttributes.color!==void 0,s=o.morphAttributes.position||[],c=o.morphAttributes.normal||[],l=o.morphAttributes.color||[],f=0;e===!0&&(f=1),n===!0&&(f=2),a===!0&&(f=3);let p=o.attributes.position.count*f,m=1;p>t.maxTextureSize&&(m=Math.ceil(p/t.maxTextureSize),p=t.maxTextureSize);let h=new Float32Array(p*m*4*u),g=new To(h,p,m,u);g.type=ni,g.needsUpdate=!0;let _=f*4;for(let t=0;t<u;t++){let r=s[t],o=c[t],u=l[t],d=p*m*4*t;for(let t=0;t<r.count;t++){let s=t*_;e===!0&&(i.fromBufferAttribute(r,t),h[d+s+0]=i.x,h[d+s+1]=i.y,h[d+s+2]=i.z,h[d+s+3]=0),n===!0&&(i.fromBufferAttribute(o,t),h[d+s+4]=i.x,h[d+s+5]=i.y,h[d+s+6]=i.z,h[d+s+7]=0),a===!0&&(i.fromBufferAttribute(u,t),h[d+s+8]=i.x,h[d+s+9]=i.y,h[d+s+10]=i.z,h[d+s+11]=u.itemSize===4?i.w:1)}}d={count:u,texture:g,size:new Z(p,m)},r.set(o,d);function v(){g.dispose(),r.delete(o),o.removeEventListener(`dispose`,v)}o.addEventListener(`dispose`,v)}if(a.isInstancedMesh===!0&&a.morphTexture!==null)s.getUniforms().setValue(e,`morphTexture`,a.morphTexture,n);else{let t=0;for(let e=0;e<c.length;e++)t+=c[e];let n=o.morphTargetsRelative?1:1-t;s.getUniforms().setValue(e,`morphTargetBaseInfluence`,n),s.getUniforms().setValue(e,`morphTargetInfluences`,c)}s.getUniforms().setValue(e,`morphTargetsTexture`,d.texture,n),s.getUniforms().setValue(e,`morphTargetsTextureSize`,d.size)}return{update:a}}function Af(e,t,n,r,i){let a=new WeakMap;function o(r){let o=i.render.frame,s=r.geometry,l=t.get(r,s);if(a.get(l)!==o&&(t.update(l),a.set(l,o)),r.isInstancedMesh&&(r.hasEventListener(`dispose`,c)===!1&&r.addEventListener(`dispose`,c),a.get(r)!==o&&(n.update(r.instanceMatrix,e.ARRAY_BUFFER),r.instanceColor!==null&&n.update(r.instanceColor,e.ARRAY_BUFFER),a.set(r,o))),r.isSkinnedMesh){let e=r.skeleton;a.get(e)!==o&&(e.update(),a.set(e,o))}return l}function s(){a=new WeakMap}function c(e){let t=e.target;t.removeEventListener(`dispose`,c),r.releaseStatesOfObject(t),n.remove(t.instanceMatrix),t.instanceColor!==null&&n.remove(t.instanceColor)}return{update:o,dispose:s}}var jf={1:`LINEAR_TONE_MAPPING`,2:`REINHARD_TONE_MAPPING`,3:`CINEON_TONE_MAPPING`,4:`ACES_FILMIC_TONE_MAPPING`,6:`AGX_TONE_MAPPING`,7:`NEUTRAL_TONE_MAPPING`,5:`CUSTOM_TONE_MAPPING`};function Mf(e,t,n,r,i,a){let o=new wo(t,n,{type:e,depthBuffer:i,stencilBuffer:a,samples:r?4:0,storeMultisampledDepthBuffer:!1,storeMultisampledStencilBuffer:!1,resolveDepthBuffer:!1,resolveStencilBuffer:!1}),s=null,c=null,l=null,u=new lc;u.setAttribute(`position`,new Zs([-1,3,0,-1,-1,0,3,-1,0],3)),u.setAttribute(`uv`,new Zs([0,2,0,0,2,0],2));let d=new Ku({uniforms:{tDiffuse:{value:null}},vertexShader:`
			precision highp float;

			uniform mat4 modelViewMatrix;
			uniform mat4 projectionMatrix;

			attribute vec3 position;
			attribute vec2 uv;

			varying vec2 vUv;

			void main() {
				vUv = uv;
				gl_Position = projectionMatrix * modelViewMatrix * vec4( position, 1.0 );
			}`,fragmentShader:`
			precision highp float;

			uniform sampler2D tDiffuse;

			varying vec2 vUv;

			#include <tonemapping_pars_fragment>
			#include <colorspace_pars_fragment>

			void main() {
				gl_FragColor = texture2D( tDiffuse, vUv );

				#ifdef LINEAR_TONE_MAPPING
					gl_FragColor.rgb = LinearToneMapping( gl_FragColor.rgb );
				#elif defined( REINHARD_TONE_MAPPING )
					gl_FragColor.rgb = ReinhardToneMapping( gl_FragColor.rgb );
				#elif defined( CINEON_TONE_MAPPING )
					gl_FragColor.rgb = CineonToneMapping( gl_FragColor.rgb );
				#elif defined( ACES_FILMIC_TONE_MAPPING )
					gl_FragColor.rgb = ACESFilmicToneMapping( gl_FragColor.rgb );
				#elif defined( AGX_TONE_MAPPING )
					gl_FragColor.rgb = AgXToneMapping( gl_FragColor.rgb );
				#elif defined( NEUTRAL_TONE_MAPPING )
					gl_FragColor.rgb = NeutralToneMapping( gl_FragColor.rgb );
				#elif defined( CUSTOM_TONE_MAPPING )
					gl_FragColor.rgb = CustomToneMapping( gl_FragColor.rgb );
				#endif

				#ifdef SRGB_TRANSFER
					gl_FragColor = sRGBTransferOETF( gl_FragColor );
				#endif
			}`,depthTest:!1,depthWrite:!1}),f=new Nc(u,d),p=new Cd(-1,1,1,-1,0,1),m=null,h=null,g=!1,_,v=null,y=[],b=!1;this.setSize=function(e,t){o.setSize(e,t),s!==null&&s.setSize(e,t),c!==null&&c.setSize(e,t);for(let n=0;n<y.length;n++){let r=y[n];r.setSize&&r.setSize(e,t)}},this.setEffects=function(e){y=e,b=y.length>0&&y[0].isRenderPass===!0;let t=o.width,n=o.height;y.length>0&&s===null&&(s=new wo(t,n,{type:ri,depthBuffer:!1,stencilBuffer:!1}),c=new wo(t,n,{type:ri,depthBuffer:!1,stencilBuffer:!1}));let r=i===!0&&y.some(e=>e.needsDepthTexture===!0);r!==(o.depthTexture!==null)&&(r===!0&&l===null&&(l=new ul(t,n),a===!0&&(l.format=pi,l.type=oi)),o.dispose(),o.depthTexture=r?l:null,o.resolveDepthBuffer=r,o.storeMultisampledDepthBuffer=r);for(let e=0;e<y.length;e++){let i=y[e];i.setSize&&i.setSize(t,n),r&&i.needsDepthTexture===!0&&i.setDepthTexture&&i.setDepthTexture(l)}},this.begin=function(e,t){if(g||e.toneMapping===0&&y.length===0)return!1;if(v=t,t!==null){let e=t.width,n=t.height;(o.width!==e||o.height!==n)&&this.setSize(e,n)}return b===!1&&e.setRenderTarget(o),_=e.toneMapping,e.toneMapping=0,!0},this.hasRenderPass=function(){return b},this.end=function(e,t){e.toneMapping=_,g=!0;let n=o,r=s;for(let i=0;i<y.length;i++){let a=y[i];a.enabled!==!1&&(a.render(e,r,n,t),a.needsSwap!==!1&&(n=r,r=r===s?c:s))}if(m!==e.outputColorSpace||h!==e.toneMapping){m=e.outputColorSpace,h=e.toneMapping,d.defines={},uo.getTransfer(m)===`srgb`&&(d.defines.SRGB_TRANSFER=``);let t=jf[h];t&&(d.defines[t]=``),d.needsUpdate=!0}d.uniforms.tDiffuse.value=n.texture,e.setRenderTarget(v),e.render(f,p),v=null,g=!1},this.isCompositing=function(){return g},this.dispose=function(){o.dispose(),s!==null&&s.dispose(),c!==null&&c.dispose(),u.dispose(),d.dispose()}}var Nf=new xo,Pf=new ul(1,1),Ff=new dl(1),If=new To,Lf=new Eo,Rf=new ll,zf=[],Bf=[],Vf=new Float32Array(16),Hf=new Float32Array(9),Uf=new Float32Array(4);function Wf(e,t,n){let r=e[0];if(r<=0||r>0)return e;let i=t*n,a=zf[i];if(a===void 0&&(a=new Float32Array(i),zf[i]=a),t!==0){r.toArray(a,0);for(let r=1,i=0;r!==t;++r)i+=n,e[r].toArray(a,i)}return a}function Gf(e,t){if(e.length!==t.length)return!1;for(let n=0,r=e.length;n<r;n++)if(e[n]!==t[n])return!1;return!0}function Kf(e,t){for(let n=0,r=t.length;n<r;n++)e[n]=t[n]}function qf(e,t){let n=Bf[t];n===void 0&&(n=new Int32Array(t),Bf[t]=n);for(let r=0;r!==t;++r)n[r]=e.allocateTextureUnit();return n}function Jf(e,t){let n=this.cache;n[0]!==t&&(e.uniform1f(this.addr,t),n[0]=t)}function Yf(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y)&&(e.uniform2f(this.addr,t.x,t.y),n[0]=t.x,n[1]=t.y);else{if(Gf(n,t))return;e.uniform2fv(this.addr,t),Kf(n,t)}}function Xf(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y||n[2]!==t.z)&&(e.uniform3f(this.addr,t.x,t.y,t.z),n[0]=t.x,n[1]=t.y,n[2]=t.z);else if(t.r!==void 0)(n[0]!==t.r||n[1]!==t.g||n[2]!==t.b)&&(e.uniform3f(this.addr,t.r,t.g,t.b),n[0]=t.r,n[1]=t.g,n[2]=t.b);else{if(Gf(n,t))return;e.uniform3fv(this.addr,t),Kf(n,t)}}function Zf(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y||n[2]!==t.z||n[3]!==t.w)&&(e.uniform4f(this.addr,t.x,t.y,t.z,t.w),n[0]=t.x,n[1]=t.y,n[2]=t.z,n[3]=t.w);else{if(Gf(n,t))return;e.uniform4fv(this.addr,t),Kf(n,t)}}function Qf(e,t){let n=this.cache,r=t.elements;if(r===void 0){if(Gf(n,t))return;e.uniformMatrix2fv(this.addr,!1,t),Kf(n,t)}else{if(Gf(n,r))return;Uf.set(r),e.uniformMatrix2fv(this.addr,!1,Uf),Kf(n,r)}}function $f(e,t){let n=this.cache,r=t.elements;if(r===void 0){if(Gf(n,t))return;e.uniformMatrix3fv(this.addr,!1,t),Kf(n,t)}else{if(Gf(n,r))return;Hf.set(r),e.uniformMatrix3fv(this.addr,!1,Hf),Kf(n,r)}}function ep(e,t){let n=this.cache,r=t.elements;if(r===void 0){if(Gf(n,t))return;e.uniformMatrix4fv(this.addr,!1,t),Kf(n,t)}else{if(Gf(n,r))return;Vf.set(r),e.uniformMatrix4fv(this.addr,!1,Vf),Kf(n,r)}}function tp(e,t){let n=this.cache;n[0]!==t&&(e.uniform1i(this.addr,t),n[0]=t)}function np(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y)&&(e.uniform2i(this.addr,t.x,t.y),n[0]=t.x,n[1]=t.y);else{if(Gf(n,t))return;e.uniform2iv(this.addr,t),Kf(n,t)}}function rp(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y||n[2]!==t.z)&&(e.uniform3i(this.addr,t.x,t.y,t.z),n[0]=t.x,n[1]=t.y,n[2]=t.z);else{if(Gf(n,t))return;e.uniform3iv(this.addr,t),Kf(n,t)}}function ip(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y||n[2]!==t.z||n[3]!==t.w)&&(e.uniform4i(this.addr,t.x,t.y,t.z,t.w),n[0]=t.x,n[1]=t.y,n[2]=t.z,n[3]=t.w);else{if(Gf(n,t))return;e.uniform4iv(this.addr,t),Kf(n,t)}}function ap(e,t){let n=this.cache;n[0]!==t&&(e.uniform1ui(this.addr,t),n[0]=t)}function op(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y)&&(e.uniform2ui(this.addr,t.x,t.y),n[0]=t.x,n[1]=t.y);else{if(Gf(n,t))return;e.uniform2uiv(this.addr,t),Kf(n,t)}}function sp(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y||n[2]!==t.z)&&(e.uniform3ui(this.addr,t.x,t.y,t.z),n[0]=t.x,n[1]=t.y,n[2]=t.z);else{if(Gf(n,t))return;e.uniform3uiv(this.addr,t),Kf(n,t)}}function cp(e,t){let n=this.cache;if(t.x!==void 0)(n[0]!==t.x||n[1]!==t.y||n[2]!==t.z||n[3]!==t.w)&&(e.uniform4ui(this.addr,t.x,t.y,t.z,t.w),n[0]=t.x,n[1]=t.y,n[2]=t.z,n[3]=t.w);else{if(Gf(n,t))return;e.uniform4uiv(this.addr,t),Kf(n,t)}}function lp(e){return e.version===0&&(e.compareFunction=519,e.needsUpdate=!0),e}function up(e,t,n){let r=this.cache,i=n.allocateTextureUnit();r[0]!==i&&(e.uniform1i(this.addr,i),r[0]=i);let a;a=this.type===e.SAMPLER_2D_SHADOW?lp(Pf):Nf,n.setTexture2D(t||a,i)}function dp(e,t,n){let r=this.cache,i=n.allocateTextureUnit();r[0]!==i&&(e.uniform1i(this.addr,i),r[0]=i),n.setTexture3D(t||Lf,i)}function fp(e,t,n){let r=this.cache,i=n.allocateTextureUnit();r[0]!==i&&(e.uniform1i(this.addr,i),r[0]=i);let a;a=this.type===e.SAMPLER_CUBE_SHADOW?lp(Ff):Rf,n.setTextureCube(t||a,i)}function pp(e,t,n){let r=this.cache,i=n.allocateTextureUnit();r[0]!==i&&(e.uniform1i(this.addr,i),r[0]=i),n.setTexture2DArray(t||If,i)}function mp(e){switch(e){case 5126:return Jf;case 35664:return Yf;case 35665:return Xf;case 35666:return Zf;case 35674:return Qf;case 35675:return $f;case 35676:return ep;case 5124:case 35670:return tp;case 35667:case 35671:return np;case 35668:case 35672:return rp;case 35669:case 35673:return ip;case 5125:return ap;case 36294:return op;case 36295:return sp;case 36296:return cp;case 35678:case 36198:case 36298:case 36306:case 35682:return up;case 35679:case 36299:case 36307:return dp;case 35680:case 36300:case 36308:case 36293:return fp;case 36289:case 36303:case 36311:case 36292:return pp}}function hp(e,t){e.uniform1fv(this.addr,t)}function gp(e,t){let n=Wf(t,this.size,2);e.uniform2fv(this.addr,n)}function _p(e,t){let n=Wf(t,this.size,3);e.uniform3fv(this.addr,n)}function vp(e,t){let n=Wf(t,this.size,4);e.uniform4fv(this.addr,n)}function yp(e,t){let n=Wf(t,this.size,4);e.uniformMatrix2fv(this.addr,!1,n)}function bp(e,t){let n=Wf(t,this.size,9);e.uniformMatrix3fv(this.addr,!1,n)}function xp(e,t){let n=Wf(t,this.size,16);e.uniformMatrix4fv(this.addr,!1,n)}function Sp(e,t){e.uniform1iv(this.addr,t)}function Cp(e,t){e.uniform2iv(this.addr,t)}function wp(e,t){e.uniform3iv(this.addr,t)}function Tp(e,t){e.uniform4iv(this.addr,t)}function Ep(e,t){e.uniform1uiv(this.addr,t)}function Dp(e,t){e.uniform2uiv(this.addr,t)}function Op(e,t){e.uniform3uiv(this.addr,t)}function kp(e,t){e.uniform4uiv(this.addr,t)}function Ap(e,t,n){let r=this.cache,i=t.length,a=qf(n,i);Gf(r,a)||(e.uniform1iv(this.addr,a),Kf(r,a));let o;o=this.type===e.SAMPLER_2D_SHADOW?lp(Pf):Nf;for(let e=0;e!==i;++e)n.setTexture2D(t[e]||o,a[e])}function jp(e,t,n){let r=this.cache,i=t.length,a=qf(n,i);Gf(r,a)||(e.uniform1iv(this.addr,a),Kf(r,a));for(let e=0;e!==i;++e)n.setTexture3D(t[e]||Lf,a[e])}function Mp(e,t,n){let r=this.cache,i=t.length,a=qf(n,i);Gf(r,a)||(e.uniform1iv(this.addr,a),Kf(r,a));let o;o=this.type===e.SAMPLER_CUBE_SHADOW?lp(Ff):Rf;for(let e=0;e!==i;++e)n.setTextureCube(t[e]||o,a[e])}function Np(e,t,n){let r=this.cache,i=t.length,a=qf(n,i);Gf(r,a)||(e.uniform1iv(this.addr,a),Kf(r,a));for(let e=0;e!==i;++e)n.setTexture2DArray(t[e]||If,a[e])}function Pp(e){switch(e){case 5126:return hp;case 35664:return gp;case 35665:return _p;case 35666:return vp;case 35674:return yp;case 35675:return bp;case 35676:return xp;case 5124:case 35670:return Sp;case 35667:case 35671:return Cp;case 35668:case 35672:return wp;case 35669:case 35673:return Tp;case 5125:return Ep;case 36294:return Dp;case 36295:return Op;case 36296:return kp;case 35678:case 36198:case 36298:case 36306:case 35682:return Ap;case 35679:case 36299:case 36307:return jp;case 35680:case 36300:case 36308:case 36293:return Mp;case 36289:case 36303:case 36311:case 36292:return Np}}var Fp=class{constructor(e,t,n){this.id=e,this.addr=n,this.cache=[],this.type=t.type,this.setValue=mp(t.type)}},Ip=class{constructor(e,t,n){this.id=e,this.addr=n,this.cache=[],this.type=t.type,this.size=t.size,this.setValue=Pp(t.type)}},Lp=class{constructor(e){this.id=e,this.seq=[],this.map={}}setValue(e,t,n){let r=this.seq;for(let i=0,a=r.length;i!==a;++i){let a=r[i];a.setValue(e,t[a.id],n)}}},Rp=/(\w+)(\])?(\[|\.)?/g;function zp(e,t){e.seq.push(t),e.map[t.id]=t}function Bp(e,t,n){let r=e.name,i=r.length;for(Rp.lastIndex=0;;){let a=Rp.exec(r),o=Rp.lastIndex,s=a[1],c=a[2]===`]`,l=a[3];if(c&&(s|=0),l===void 0||l===`[`&&o+2===i){zp(n,l===void 0?new Fp(s,e,t):new Ip(s,e,t));break}{let e=n.map[s];e===void 0&&(e=new Lp(s),zp(n,e)),n=e}}}var Vp=class{constructor(e,t){this.seq=[],this.map={};let n=e.getProgramParameter(t,e.ACTIVE_UNIFORMS);for(let r=0;r<n;++r){let n=e.getActiveUniform(t,r);Bp(n,e.getUniformLocation(t,n.name),this)}let r=[],i=[];for(let t of this.seq)t.type===e.SAMPLER_2D_SHADOW||t.type===e.SAMPLER_CUBE_SHADOW||t.type===e.SAMPLER_2D_ARRAY_SHADOW?r.push(t):i.push(t);r.length>0&&(this.seq=r.concat(i))}setValue(e,t,n,r){let i=this.map[t];i!==void 0&&i.setValue(e,n,r)}setOptional(e,t,n){let r=t[n];r!==void 0&&this.setValue(e,n,r)}static upload(e,t,n,r){for(let i=0,a=t.length;i!==a;++i){let a=t[i],o=n[a.id];o.needsUpdate!==!1&&a.setValue(e,o.value,r)}}static seqWithValue(e,t){let n=[];for(let r=0,i=e.length;r!==i;++r){let i=e[r];i.id in t&&n.push(i)}return n}};function Hp(e,t,n){let r=e.createShader(t);return e.shaderSource(r,n),e.compileShader(r),r}var Up=37297,Wp=0;function Gp(e,t){let n=e.split(`
`),r=[],i=Math.max(t-6,0),a=Math.min(t+6,n.length);for(let e=i;e<a;e++){let i=e+1;r.push(`${i===t?`>`:` `} ${i}: ${n[e]}`)}return r.join(`
`)}var Kp=new ao;function qp(e){uo._getMatrix(Kp,uo.workingColorSpace,e);let t=`mat3( ${Kp.elements.map(e=>e.toFixed(4))} )`;switch(uo.getTransfer(e)){case da:return[t,`LinearTransferOETF`];case fa:return[t,`sRGBTransferOETF`];default:return X(`WebGLProgram: Unsupported color space: `,e),[t,`LinearTransferOETF`]}}function Jp(e,t,n){let r=e.getShaderParameter(t,e.COMPILE_STATUS),i=(e.getShaderInfoLog(t)||``).trim();if(r&&i===``)return``;let a=/ERROR: 0:(\d+)/.exec(i);if(a){let r=parseInt(a[1]);return n.toUpperCase()+`

`+i+`

`+Gp(e.getShaderSource(t),r)}return i}function Yp(e,t){let n=qp(t);return[`vec4 ${e}( vec4 value ) {`,`	return ${n[1]}( vec4( ${n[0]} * value.rgb, value.a ) );`,`}`].join(`
`)}var Xp={1:`Linear`,2:`Reinhard`,3:`Cineon`,4:`ACESFilmic`,6:`AgX`,7:`Neutral`,5:`Custom`};function Zp(e,t){let n=Xp[t];return n===void 0?(X(`WebGLProgram: Unsupported toneMapping:`,t),`vec3 `+e+`( vec3 color ) { return LinearToneMapping( color ); }`):`vec3 `+e+`( vec3 color ) { return `+n+`ToneMapping( color ); }`}var Qp=new Q;function $p(){return uo.getLuminanceCoefficients(Qp),[`float luminance( const in vec3 rgb ) {`,`	const vec3 weights = vec3( ${Qp.x.toFixed(4)}, ${Qp.y.toFixed(4)}, ${Qp.z.toFixed(4)} );`,`	return dot( weights, rgb );`,`}`].join(`
`)}function em(e){return[e.extensionClipCullDistance?`#extension GL_ANGLE_clip_cull_distance : require`:``,e.extensionMultiDraw?`#extension GL_ANGLE_multi_draw : require`:``].filter(rm).join(`
`)}function tm(e){let t=[];for(let n in e){let r=e[n];r!==!1&&t.push(`#define `+n+` `+r)}return t.join(`
`)}function nm(e,t){let n={},r=e.getProgramParameter(t,e.ACTIVE_ATTRIBUTES);for(let i=0;i<r;i++){let r=e.getActiveAttrib(t,i),a=r.name,o=1;r.type===e.FLOAT_MAT2&&(o=2),r.type===e.FLOAT_MAT3&&(o=3),r.type===e.FLOAT_MAT4&&(o=4),n[a]={type:r.type,location:e.getAttribLocation(t,a),locationSize:o}}return n}function rm(e){return e!==``}function im(e,t){let n=t.numSpotLightShadows+t.numSpotLightMaps-t.numSpotLightShadowsWithMaps;return e.replace(/NUM_SUN_LIGHTS/g,t.numSunLights).replace(/NUM_DIR_LIGHTS/g,t.numDirLights).replace(/NUM_SPOT_LIGHTS/g,t.numSpotLights).replace(/NUM_SPOT_LIGHT_MAPS/g,t.numSpotLightMaps).replace(/NUM_SPOT_LIGHT_COORDS/g,n).replace(/NUM_RECT_AREA_LIGHTS/g,t.numRectAreaLights).replace(/NUM_POINT_LIGHTS/g,t.numPointLights).replace(/NUM_HEMI_LIGHTS/g,t.numHemiLights).replace(/NUM_SUN_LIGHT_SHADOWS/g,t.numSunLightShadows).replace(/NUM_DIR_LIGHT_SHADOWS/g,t.numDirLightShadows).replace(/NUM_SPOT_LIGHT_SHADOWS_WITH_MAPS/g,t.numSpotLightShadowsWithMaps).replace(/NUM_SPOT_LIGHT_SHADOWS/g,t.numSpotLightShadows).replace(/NUM_POINT_LIGHT_SHADOWS/g,t.numPointLightShadows).replace(/NUM_LIGHT_PROBE_GRIDS/g,t.numLightProbeGrids)}function am(e,t){return e.replace(/NUM_CLIPPING_PLANES/g,t.numClippingPlanes).replace(/UNION_CLIPPING_PLANES/g,t.numClippingPlanes-t.numClipIntersection)}var om=/^[ \t]*#include +<([\w\d./]+)>/gm;function sm(e){return e.replace(om,cm)}function cm(e,t){let n=Xd[t];if(n===void 0)throw Error(`THREE.WebGLProgram: Can not resolve #include <`+t+`>`);return sm(n)}var lm=/#pragma unroll_loop_start\s+for\s*\(\s*int\s+i\s*=\s*(\d+)\s*;\s*i\s*<\s*(\d+)\s*;\s*i\s*\+\+\s*\)\s*{([\s\S]+?)}\s+#pragma unroll_loop_end/g;function um(e){return e.replace(lm,dm)}function dm(e,t,n,r){let i=``;for(let e=parseInt(t);e<parseInt(n);e++)i+=r.replace(/\[\s*i\s*\]/g,`[ `+e+` ]`).replace(/UNROLLED_LOOP_INDEX/g,e);return i}function fm(e){let t=`precision ${e.precision} float;
	precision ${e.precision} int;
	precision ${e.precision} sampler2D;
	precision ${e.precision} samplerCube;
	precision ${e.precision} sampler3D;
	precision ${e.precision} sampler2DArray;
	precision ${e.precision} sampler2DShadow;
	precision ${e.precision} samplerCubeShadow;
	precision ${e.precision} sampler2DArrayShadow;
	precision ${e.precision} isampler2D;
	precision ${e.precision} isampler3D;
	precision ${e.precision} isamplerCube;
	precision ${e.precision} isampler2DArray;
	precision ${e.precision} usampler2D;
	precision ${e.precision} usampler3D;
	precision ${e.precision} usamplerCube;
	precision ${e.precision} usampler2DArray;
	`;return e.precision===`highp`?t+=`
#define HIGH_PRECISION`:e.precision===`mediump`?t+=`
#define MEDIUM_PRECISION`:e.precision===`lowp`&&(t+=`
#define LOW_PRECISION`),t}var pm={1:`SHADOWMAP_TYPE_PCF`,3:`SHADOWMAP_TYPE_VSM`};function mm(e){return pm[e.shadowMapType]||`SHADOWMAP_TYPE_BASIC`}var hm={302:`ENVMAP_MODE_REFRACTION`};function gm(e){return e.envMap===!1?`ENVMAP_MODE_REFLECTION`:hm[e.envMapMode]||`ENVMAP_MODE_REFLECTION`}var _m={0:`ENVMAP_BLENDING_MULTIPLY`,1:`ENVMAP_BLENDING_MIX`,2:`ENVMAP_BLENDING_ADD`};function vm(e){return e.envMap===!1?`ENVMAP_BLENDING_NONE`:_m[e.combine]||`ENVMAP_BLENDING_NONE`}function ym(e,t,n,r){let i=e.getContext(),a=n.defines,o=n.vertexShader,s=n.fragmentShader,c=mm(n),l=n.envMapPMREM===!0?`ENVMAP_TYPE_PMREM`:`ENVMAP_TYPE_CUBE`,u=gm(n),d=vm(n),f=em(n),p=tm(a),m=i.createProgram(),h,g,_=n.glslVersion?`#version `+n.glslVersion+`
`:``;n.isRawShaderMaterial?(h=[`#define SHADER_TYPE `+n.shaderType,`#define SHADER_NAME `+n.shaderName,p].filter(rm).join(`
`),h.length>0&&(h+=`
`),g=[`#define SHADER_TYPE `+n.shaderType,`#define SHADER_NAME `+n.shaderName,p].filter(rm).join(`
`),g.length>0&&(g+=`
`)):(h=[fm(n),`#define SHADER_TYPE `+n.shaderType,`#define SHADER_NAME `+n.shaderName,p,n.extensionClipCullDistance?`#define USE_CLIP_DISTANCE`:``,n.batching?`#define USE_BATCHING`:``,n.batchingColor?`#define USE_BATCHING_COLOR`:``,n.instancing?`#define USE_INSTANCING`:``,n.instancingColor?`#define USE_INSTANCING_COLOR`:``,n.instancingMorph?`#define USE_INSTANCING_MORPH`:``,n.useFog&&n.fog?`#define USE_FOG`:``,n.useFog&&n.fogExp2?`#define FOG_EXP2`:``,n.map?`#define USE_MAP`:``,n.envMap?`#define USE_ENVMAP`:``,n.envMap?`#define `+u:``,n.lightMap?`#define USE_LIGHTMAP`:``,n.aoMap?`#define USE_AOMAP`:``,n.bumpMap?`#define USE_BUMPMAP`:``,n.normalMap?`#define USE_NORMALMAP`:``,n.normalMapObjectSpace?`#define USE_NORMALMAP_OBJECTSPACE`:``,n.normalMapTangentSpace?`#define USE_NORMALMAP_TANGENTSPACE`:``,n.displacementMap?`#define USE_DISPLACEMENTMAP`:``,n.emissiveMap?`#define USE_EMISSIVEMAP`:``,n.anisotropy?`#define USE_ANISOTROPY`:``,n.anisotropyMap?`#define USE_ANISOTROPYMAP`:``,n.clearcoatMap?`#define USE_CLEARCOATMAP`:``,n.clearcoatRoughnessMap?`#define USE_CLEARCOAT_ROUGHNESSMAP`:``,n.clearcoatNormalMap?`#define USE_CLEARCOAT_NORMALMAP`:``,n.diffuseRoughnessMap?`#define USE_DIFFUSE_ROUGHNESSMAP`:``,n.iridescenceMap?`#define USE_IRIDESCENCEMAP`:``,n.iridescenceThicknessMap?`#define USE_IRIDESCENCE_THICKNESSMAP`:``,n.specularMap?`#define USE_SPECULARMAP`:``,n.specularColorMap?`#define USE_SPECULAR_COLORMAP`:``,n.specularIntensityMap?`#define USE_SPECULAR_INTENSITYMAP`:``,n.roughnessMap?`#define USE_ROUGHNESSMAP`:``,n.metalnessMap?`#define USE_METALNESSMAP`:``,n.alphaMap?`#define USE_ALPHAMAP`:``,n.alphaHash?`#define USE_ALPHAHASH`:``,n.transmission?`#define USE_TRANSMISSION`:``,n.transmissionMap?`#define USE_TRANSMISSIONMAP`:``,n.thicknessMap?`#define USE_THICKNESSMAP`:``,n.sheenColorMap?`#define USE_SHEEN_COLORMAP`:``,n.sheenRoughnessMap?`#define USE_SHEEN_ROUGHNESSMAP`:``,n.mapUv?`#define MAP_UV `+n.mapUv:``,n.alphaMapUv?`#define ALPHAMAP_UV `+n.alphaMapUv:``,n.lightMapUv?`#define LIGHTMAP_UV `+n.lightMapUv:``,n.aoMapUv?`#define AOMAP_UV `+n.aoMapUv:``,n.emissiveMapUv?`#define EMISSIVEMAP_UV `+n.emissiveMapUv:``,n.bumpMapUv?`#define BUMPMAP_UV `+n.bumpMapUv:``,n.normalMapUv?`#define NORMALMAP_UV `+n.normalMapUv:``,n.displacementMapUv?`#define DISPLACEMENTMAP_UV `+n.displacementMapUv:``,n.metalnessMapUv?`#define METALNESSMAP_UV `+n.metalnessMapUv:``,n.roughnessMapUv?`#define ROUGHNESSMAP_UV `+n.roughnessMapUv:``,n.anisotropyMapUv?`#define ANISOTROPYMAP_UV `+n.anisotropyMapUv:``,n.clearcoatMapUv?`#define CLEARCOATMAP_UV `+n.clearcoatMapUv:``,n.clearcoatNormalMapUv?`#define CLEARCOAT_NORMALMAP_UV `+n.clearcoatNormalMapUv:``,n.clearcoatRoughnessMapUv?`#define CLEARCOAT_ROUGHNESSMAP_UV `+n.clearcoatRoughnessMapUv:``,n.diffuseRoughnessMapUv?`#define DIFFUSE_ROUGHNESSMAP_UV `+n.diffuseRoughnessMapUv:``,n.iridescenceMapUv?`#define IRIDESCENCEMAP_UV `+n.iridescenceMapUv:``,n.iridescenceThicknessMapUv?`#define IRIDESCENCE_THICKNESSMAP_UV `+n.iridescenceThicknessMapUv:``,n.sheenColorMapUv?`#define SHEEN_COLORMAP_UV `+n.sheenColorMapUv:``,n.sheenRoughnessMapUv?`#define SHEEN_ROUGHNESSMAP_UV `+n.sheenRoughnessMapUv:``,n.specularMapUv?`#define SPECULARMAP_UV `+n.specularMapUv:``,n.specularColorMapUv?`#define SPECULAR_COLORMAP_UV `+n.specularColorMapUv:``,n.specularIntensityMapUv?`#define SPECULAR_INTENSITYMAP_UV `+n.specularIntensityMapUv:``,n.transmissionMapUv?`#define TRANSMISSIONMAP_UV `+n.transmissionMapUv:``,n.thicknessMapUv?`#define THICKNESSMAP_UV `+n.thicknessMapUv:``,n.vertexTangents&&n.flatShading===!1?`#define USE_TANGENT`:``,n.vertexNormals?`#define HAS_NORMAL`:``,n.vertexColors?`#define USE_COLOR`:``,n.vertexAlphas?`#define USE_COLOR_ALPHA`:``,n.vertexUv1s?`#define USE_UV1`:``,n.vertexUv2s?`#define USE_UV2`:``,n.vertexUv3s?`#define USE_UV3`:``,n.pointsUvs?`#define USE_POINTS_UV`:``,n.flatShading?`#define FLAT_SHADED`:``,n.skinning?`#define USE_SKINNING`:``,n.morphTargets?`#define USE_MORPHTARGETS`:``,n.morphNormals&&n.flatShading===!1?`#define USE_MORPHNORMALS`:``,n.morphColors?`#define USE_MORPHCOLORS`:``,n.morphTargetsCount>0?`#define MORPHTARGETS_TEXTURE_STRIDE `+n.morphTextureStride:``,n.morphTargetsCount>0?`#define MORPHTARGETS_COUNT `+n.morphTargetsCount:``,n.doubleSided?`#define DOUBLE_SIDED`:``,n.flipSided?`#define FLIP_SIDED`:``,n.shadowMapEnabled?`#define USE_SHADOWMAP`:``,n.shadowMapEnabled?`#define `+c:``,n.sizeAttenuation?`#define USE_SIZEATTENUATION`:``,n.numLightProbes>0?`#define USE_LIGHT_PROBES`:``,n.logarithmicDepthBuffer?`#define USE_LOGARITHMIC_DEPTH_BUFFER`:``,n.reversedDepthBuffer?`#define USE_REVERSED_DEPTH_BUFFER`:``,`uniform mat4 modelMatrix;`,`uniform mat4 modelViewMatrix;`,`uniform mat4 projectionMatrix;`,`uniform mat4 viewMatrix;`,`uniform mat3 normalMatrix;`,`uniform vec3 cameraPosition;`,`uniform bool isOrthographic;`,`#ifdef USE_INSTANCING`,`	attribute mat4 instanceMatrix;`,`#endif`,`#ifdef USE_INSTANCING_COLOR`,`	attribute vec3 instanceColor;`,`#endif`,`#ifdef USE_INSTANCING_MORPH`,`	uniform sampler2D morphTexture;`,`#endif`,`attribute vec3 position;`,`attribute vec3 normal;`,`attribute vec2 uv;`,`#ifdef USE_UV1`,`	attribute vec2 uv1;`,`#endif`,`#ifdef USE_UV2`,`	attribute vec2 uv2;`,`#endif`,`#ifdef USE_UV3`,`	attribute vec2 uv3;`,`#endif`,`#ifdef USE_TANGENT`,`	attribute vec4 tangent;`,`#endif`,`#if defined( USE_COLOR_ALPHA )`,`	attribute vec4 color;`,`#elif defined( USE_COLOR )`,`	attribute vec3 color;`,`#endif`,`#ifdef USE_SKINNING`,`	attribute vec4 skinIndex;`,`	attribute vec4 skinWeight;`,`#endif`,`
`].filter(rm).join(`
`),g=[fm(n),`#define SHADER_TYPE `+n.shaderType,`#define SHADER_NAME `+n.shaderName,p,n.useFog&&n.fog?`#define USE_FOG`:``,n.useFog&&n.fogExp2?`#define FOG_EXP2`:``,n.alphaToCoverage?`#define ALPHA_TO_COVERAGE`:``,n.map?`#define USE_MAP`:``,n.matcap?`#define USE_MATCAP`:``,n.envMap?`#define USE_ENVMAP`:``,n.envMap?`#define `+l:``,n.envMap?`#define `+u:``,n.envMap?`#define `+d:``,n.envMapPMREM?`#define ENVMAP_MAX_LOD `+n.envMapMaxLod+`.0`:``,n.envMapPMREM?`#define ENVMAP_SIZE `+n.envMapSize+`.0`:``,n.lightMap?`#define USE_LIGHTMAP`:``,n.aoMap?`#define USE_AOMAP`:``,n.bumpMap?`#define USE_BUMPMAP`:``,n.normalMap?`#define USE_NORMALMAP`:``,n.normalMapObjectSpace?`#define USE_NORMALMAP_OBJECTSPACE`:``,n.normalMapTangentSpace?`#define USE_NORMALMAP_TANGENTSPACE`:``,n.packedNormalMap?`#define USE_PACKED_NORMALMAP`:``,n.emissiveMap?`#define USE_EMISSIVEMAP`:``,n.anisotropy?`#define USE_ANISOTROPY`:``,n.anisotropyMap?`#define USE_ANISOTROPYMAP`:``,n.clearcoat?`#define USE_CLEARCOAT`:``,n.clearcoatMap?`#define USE_CLEARCOATMAP`:``,n.clearcoatRoughnessMap?`#define USE_CLEARCOAT_ROUGHNESSMAP`:``,n.clearcoatNormalMap?`#define USE_CLEARCOAT_NORMALMAP`:``,n.diffuseRoughness?`#define USE_DIFFUSE_ROUGHNESS`:``,n.diffuseRoughnessMap?`#define USE_DIFFUSE_ROUGHNESSMAP`:``,n.dispersion?`#define USE_DISPERSION`:``,n.retroreflection?`#define USE_RETROREFLECTION`:``,n.iridescence?`#define USE_IRIDESCENCE`:``,n.iridescenceMap?`#define USE_IRIDESCENCEMAP`:``,n.iridescenceThicknessMap?`#define USE_IRIDESCENCE_THICKNESSMAP`:``,n.specularMap?`#define USE_SPECULARMAP`:``,n.specularColorMap?`#define USE_SPECULAR_COLORMAP`:``,n.specularIntensityMap?`#define USE_SPECULAR_INTENSITYMAP`:``,n.roughnessMap?`#define USE_ROUGHNESSMAP`:``,n.metalnessMap?`#define USE_METALNESSMAP`:``,n.alphaMap?`#define USE_ALPHAMAP`:``,n.alphaTest?`#define USE_ALPHATEST`:``,n.alphaHash?`#define USE_ALPHAHASH`:``,n.sheen?`#define USE_SHEEN`:``,n.sheenColorMap?`#define USE_SHEEN_COLORMAP`:``,n.sheenRoughnessMap?`#define USE_SHEEN_ROUGHNESSMAP`:``,n.transmission?`#define USE_TRANSMISSION`:``,n.transmissionMap?`#define USE_TRANSMISSIONMAP`:``,n.thicknessMap?`#define USE_THICKNESSMAP`:``,n.vertexTangents&&n.flatShading===!1?`#define USE_TANGENT`:``,n.vertexColors||n.instancingColor?`#define USE_COLOR`:``,n.vertexAlphas||n.batchingColor?`#define USE_COLOR_ALPHA`:``,n.vertexUv1s?`#define USE_UV1`:``,n.vertexUv2s?`#define USE_UV2`:``,n.vertexUv3s?`#define USE_UV3`:``,n.pointsUvs?`#define USE_POINTS_UV`:``,n.gradientMap?`#define USE_GRADIENTMAP`:``,n.flatShading?`#define FLAT_SHADED`:``,n.doubleSided?`#define DOUBLE_SIDED`:``,n.flipSided?`#define FLIP_SIDED`:``,n.shadowMapEnabled?`#define USE_SHADOWMAP`:``,n.shadowMapEnabled?`#define `+c:``,n.premultipliedAlpha?`#define PREMULTIPLIED_ALPHA`:``,n.numLightProbes>0?`#define USE_LIGHT_PROBES`:``,n.decodeVideoTexture?`#define DECODE_VIDEO_TEXTURE`:``,n.decodeVideoTextureEmissive?`#define DECODE_VIDEO_TEXTURE_EMISSIVE`:``,n.logarithmicDepthBuffer?`#define USE_LOGARITHMIC_DEPTH_BUFFER`:``,n.reversedDepthBuffer?`#define USE_REVERSED_DEPTH_BUFFER`:``,`uniform mat4 viewMatrix;`,`uniform vec3 cameraPosition;`,`uniform bool isOrthographic;`,n.toneMapping===0?``:`#define TONE_MAPPING`,n.toneMapping===0?``:Xd.tonemapping_pars_fragment,n.toneMapping===0?``:Zp(`toneMapping`,n.toneMapping),n.dithering?`#define DITHERING`:``,n.opaque?`#define OPAQUE`:``,Xd.colorspace_pars_fragment,Yp(`linearToOutputTexel`,n.outputColorSpace),$p(),n.useDepthPacking?`#define DEPTH_PACKING `+n.depthPacking:``,`
`].filter(rm).join(`
`)),o=sm(o),o=im(o,n),o=am(o,n),s=sm(s),s=im(s,n),s=am(s,n),o=um(o),s=um(s),n.isRawShaderMaterial!==!0&&(_=`#version 300 es
`,h=[f,`#define attribute in`,`#define varying out`,`#define texture2D texture`].join(`
`)+`
`+h,g=[`#define varying in`,n.glslVersion===`300 es`?``:`layout(location = 0) out highp vec4 pc_fragColor;`,n.glslVersion===`300 es`?``:`#define gl_FragColor pc_fragColor`,`#define gl_FragDepthEXT gl_FragDepth`,`#define texture2D texture`,`#define textureCube texture`,`#define texture2DProj textureProj`,`#define texture2DLodEXT textureLod`,`#define texture2DProjLodEXT textureProjLod`,`#define textureCubeLodEXT textureLod`,`#define texture2DGradEXT textureGrad`,`#define texture2DProjGradEXT textureProjGrad`,`#define textureCubeGradEXT textureGrad`].join(`
`)+`
`+g);let v=_+h+o,y=_+g+s,b=Hp(i,i.VERTEX_SHADER,v),x=Hp(i,i.FRAGMENT_SHADER,y);i.attachShader(m,b),i.attachShader(m,x),n.index0AttributeName===void 0?n.hasPositionAttribute===!0&&i.bindAttribLocation(m,0,`position`):i.bindAttribLocation(m,0,n.index0AttributeName),i.linkProgram(m);function S(t){if(e.debug.checkShaderErrors){let n=i.getProgramInfoLog(m)||``,r=i.getShaderInfoLog(b)||``,a=i.getShaderInfoLog(x)||``,o=n.trim(),s=r.trim(),c=a.trim(),l=!0,u=!0;if(i.getProgramParameter(m,i.LINK_STATUS)===!1){if(l=!1,typeof e.debug.onShaderError==`function`)e.debug.onShaderError(i,m,b,x);else{let e=Jp(i,b,`vertex`),n=Jp(i,x,`fragment`);Ca(`WebGLProgram: Shader Error `+i.getError()+` - VALIDATE_STATUS `+i.getProgramParameter(m,i.VALIDATE_STATUS)+`

Material Name: `+t.name+`
Material Type: `+t.type+`

Program Info Log: `+o+`
`+e+`
`+n)}}else o===``?(s===``||c===``)&&(u=!1):X(`WebGLProgram: Program Info Log:`,o);u&&(t.diagnostics={runnable:l,programLog:o,vertexShader:{log:s,prefix:h},fragmentShader:{log:c,prefix:g}})}i.deleteShader(b),i.deleteShader(x),C=new Vp(i,m),w=nm(i,m)}let C;this.getUniforms=function(){return C===void 0&&S(this),C};let w;this.getAttributes=function(){return w===void 0&&S(this),w};let T=n.rendererExtensionParallelShaderCompile===!1;return this.isReady=function(){return T===!1&&(T=i.getProgramParameter(m,Up)),T},this.destroy=function(){r.releaseStatesOfProgram(this),i.deleteProgram(m),this.program=void 0},this.type=n.shaderType,this.name=n.shaderName,this.id=Wp++,this.cacheKey=t,this.usedTimes=1,this.program=m,this.vertexShader=b,this.fragmentShader=x,this}var bm=0,xm=class{constructor(){this.shaderCache=new Map,this.materialCache=new Map}update(e,t,n){let r=this._getShaderCacheForMaterial(e);return r.has(t)===!1&&(r.add(t),t.usedTimes++),r.has(n)===!1&&(r.add(n),n.usedTimes++),this}remove(e){let t=this.materialCache.get(e);for(let e of t)e.usedTimes--,e.usedTimes===0&&this.shaderCache.delete(e.code);return this.materialCache.delete(e),this}getVertexShaderStage(e){return this._getShaderStage(e.vertexShader)}getFragmentShaderStage(e){return this._getShaderStage(e.fragmentShader)}dispose(){this.shaderCache.clear(),this.materialCache.clear()}_getShaderCacheForMaterial(e){let t=this.materialCache,n=t.get(e);return n===void 0&&(n=new Set,t.set(e,n)),n}_getShaderStage(e){let t=this.shaderCache,n=t.get(e);return n===void 0&&(n=new Sm(e),t.set(e,n)),n}},Sm=class{constructor(e){this.id=bm++,this.code=e,this.usedTimes=0}};function Cm(e){return e===1030||e===37490||e===36285}function wm(e,t,n,r,i,a){let o=new Ro,s=new xm,c=new Set,l=[],u=new Map,d=r.logarithmicDepthBuffer,f={MeshDepthMaterial:`depth`,MeshDistanceMaterial:`distance`,MeshNormalMaterial:`normal`,MeshBasicMaterial:`basic`,MeshLambertMaterial:`lambert`,MeshPhongMaterial:`phong`,MeshToonMaterial:`toon`,MeshStandardMaterial:`physical`,MeshPhysicalMaterial:`physical`,MeshMatcapMaterial:`matcap`,LineBasicMaterial:`basic`,LineDashedMaterial:`dashed`,PointsMaterial:`points`,ShadowMaterial:`shadow`,SpriteMaterial:`sprite`};function p(e){return c.add(e),e===0?`uv`:`uv${e}`}function m(i,o,l,u,m,h){let g=u.fog,_=m.geometry,v=i.isMeshStandardMaterial||i.isMeshLambertMaterial||i.isMeshPhongMaterial?u.environment:null,y=i.isMeshStandardMaterial||i.isMeshLambertMaterial&&!i.envMap||i.isMeshPhongMaterial&&!i.envMap,b=t.get(i.envMap||v,y),x=f[i.type],S=r.precision;i.precision!==null&&(S=r.getMaxPrecision(i.precision),S!==i.precision&&X(`WebGLProgram.getParameters:`,i.precision,`not supported, using`,S,`instead.`));let C=_.morphAttributes.position||_.morphAttributes.normal||_.morphAttributes.color,w=C===void 0?0:C.length,T=0;_.morphAttributes.position!==void 0&&(T=1),_.morphAttributes.normal!==void 0&&(T=2),_.morphAttributes.color!==void 0&&(T=3);let E,D,O,k;if(x){let e=Zd[x];E=e.vertexShader,D=e.fragmentShader}else{E=i.vertexShader,D=i.fragmentShader;let e=s.getVertexShaderStage(i),t=s.getFragmentShaderStage(i);s.update(i,e,t),O=e.id,k=t.id}let A=e.getRenderTarget(),j=e.state.buffers.depth.getReversed(),M=m.isInstancedMesh===!0,N=m.isBatchedMesh===!0,ee=!!i.map,te=!!i.matcap,ne=!!b,re=ne&&b.isPMREMTexture===!0,P=!!i.aoMap,F=!!i.lightMap,ie=!!i.bumpMap&&i.wireframe===!1,I=!!i.normalMap,ae=!!i.displacementMap,L=!!i.emissiveMap,oe=!!i.metalnessMap,R=!!i.roughnessMap,se=i.anisotropy>0,ce=i.clearcoat>0,le=i.diffuseRoughness>0,ue=i.dispersion>0,de=i.retroreflectivity>0,fe=i.iridescence>0,pe=i.sheen>0,me=i.transmission>0,he=se&&!!i.anisotropyMap,ge=ce&&!!i.clearcoatMap,_e=ce&&!!i.clearcoatNormalMap,ve=ce&&!!i.clearcoatRoughnessMap,ye=le&&!!i.diffuseRoughnessMap,z=fe&&!!i.iridescenceMap,B=fe&&!!i.iridescenceThicknessMap,V=pe&&!!i.sheenColorMap,be=pe&&!!i.sheenRoughnessMap,H=!!i.specularMap,xe=!!i.specularColorMap,U=!!i.specularIntensityMap,Se=me&&!!i.transmissionMap,Ce=me&&!!i.thicknessMap,we=!!i.gradientMap,Te=!!i.alphaMap,Ee=i.alphaTest>0,De=!!i.alphaHash,Oe=!!i.extensions,ke=0;i.toneMapped&&(A===null||A.isXRRenderTarget===!0)&&(ke=e.toneMapping);let Ae=re?b.isCompressedCubeTexture?b.image[0].mipmaps:b.mipmaps:null,W={shaderID:x,shaderType:i.type,shaderName:i.name,vertexShader:E,fragmentShader:D,defines:i.defines,customVertexShaderID:O,customFragmentShaderID:k,isRawShaderMaterial:i.isRawShaderMaterial===!0,glslVersion:i.glslVersion,precision:S,batching:N,batchingColor:N&&m._colorsTexture!==null,instancing:M,instancingColor:M&&m.instanceColor!==null,instancingMorph:M&&m.morphTexture!==null,outputColorSpace:A===null?e.outputColorSpace:A.isXRRenderTarget===!0?A.texture.colorSpace:uo.workingColorSpace,alphaToCoverage:!!i.alphaToCoverage,map:ee,matcap:te,envMap:ne,envMapMode:ne&&b.mapping,envMapPMREM:re,envMapMaxLod:re?Ae.length-1:null,envMapSize:re?Ae[0].width:null,aoMap:P,lightMap:F,bumpMap:ie,normalMap:I,displacementMap:ae,emissiveMap:L,normalMapObjectSpace:I&&i.normalMapType===1,normalMapTangentSpace:I&&i.normalMapType===0,packedNormalMap:I&&i.normalMapType===0&&Cm(i.normalMap.format),metalnessMap:oe,roughnessMap:R,anisotropy:se,anisotropyMap:he,clearcoat:ce,clearcoatMap:ge,clearcoatNormalMap:_e,clearcoatRoughnessMap:ve,diffuseRoughness:le,diffuseRoughnessMap:ye,dispersion:ue,retroreflection:de,iridescence:fe,iridescenceMap:z,iridescenceThicknessMap:B,sheen:pe,sheenColorMap:V,sheenRoughnessMap:be,specularMap:H,specularColorMap:xe,specularIntensityMap:U,transmission:me,transmissionMap:Se,thicknessMap:Ce,gradientMap:we,opaque:i.transparent===!1&&i.blending===1&&i.alphaToCoverage===!1,alphaMap:Te,alphaTest:Ee,alphaHash:De,combine:i.combine,mapUv:ee&&p(i.map.channel),aoMapUv:P&&p(i.aoMap.channel),lightMapUv:F&&p(i.lightMap.channel),bumpMapUv:ie&&p(i.bumpMap.channel),normalMapUv:I&&p(i.normalMap.channel),displacementMapUv:ae&&p(i.displacementMap.channel),emissiveMapUv:L&&p(i.emissiveMap.channel),metalnessMapUv:oe&&p(i.metalnessMap.channel),roughnessMapUv:R&&p(i.roughnessMap.channel),anisotropyMapUv:he&&p(i.anisotropyMap.channel),clearcoatMapUv:ge&&p(i.clearcoatMap.channel),clearcoatNormalMapUv:_e&&p(i.clearcoatNormalMap.channel),clearcoatRoughnessMapUv:ve&&p(i.clearcoatRoughnessMap.channel),diffuseRoughnessMapUv:ye&&p(i.diffuseRoughnessMap.channel),iridescenceMapUv:z&&p(i.iridescenceMap.channel),iridescenceThicknessMapUv:B&&p(i.iridescenceThicknessMap.channel),sheenColorMapUv:V&&p(i.sheenColorMap.channel),sheenRoughnessMapUv:be&&p(i.sheenRoughnessMap.channel),specularMapUv:H&&p(i.specularMap.channel),specularColorMapUv:xe&&p(i.specularColorMap.channel),specularIntensityMapUv:U&&p(i.specularIntensityMap.channel),transmissionMapUv:Se&&p(i.transmissionMap.channel),thicknessMapUv:Ce&&p(i.thicknessMap.channel),alphaMapUv:Te&&p(i.alphaMap.channel),vertexTangents:!!_.attributes.tangent&&(I||se),vertexNormals:!!_.attributes.normal,vertexColors:i.vertexColors,vertexAlphas:i.vertexColors===!0&&!!_.attributes.color&&_.attributes.color.itemSize===4,pointsUvs:m.isPoints===!0&&!!_.attributes.uv&&(ee||Te),fog:!!g,useFog:i.fog===!0,fogExp2:!!g&&g.isFogExp2,flatShading:i.wireframe===!1&&(i.flatShading===!0||_.attributes.normal===void 0&&I===!1&&(i.isMeshLambertMaterial||i.isMeshPhongMaterial||i.isMeshStandardMaterial||i.isMeshPhysicalMaterial)),sizeAttenuation:i.sizeAttenuation===!0,logarithmicDepthBuffer:d,reversedDepthBuffer:j,skinning:m.isSkinnedMesh===!0,hasPositionAttribute:_.attributes.position!==void 0,morphTargets:_.morphAttributes.position!==void 0,morphNormals:_.morphAttributes.normal!==void 0,morphColors:_.morphAttributes.color!==void 0,morphTargetsCount:w,morphTextureStride:T,numSunLights:o.sun.length,numDirLights:o.directional.length,numPointLights:o.point.length,numSpotLights:o.spot.length,numSpotLightMaps:o.spotLightMap.length,numRectAreaLights:o.rectArea.length,numHemiLights:o.hemi.length,numSunLightShadows:o.sunShadowMap.length,numDirLightShadows:o.directionalShadowMap.length,numPointLightShadows:o.pointShadowMap.length,numSpotLightShadows:o.spotShadowMap.length,numSpotLightShadowsWithMaps:o.numSpotLightShadowsWithMaps,numLightProbes:o.numLightProbes,numLightProbeGrids:h.filter(e=>e.texture!==null).length,numClippingPlanes:a.numPlanes,numClipIntersection:a.numIntersection,dithering:i.dithering,shadowMapEnabled:e.shadowMap.enabled&&l.length>0,shadowMapType:e.shadowMap.type,toneMapping:ke,decodeVideoTexture:ee&&i.map.isVideoTexture===!0&&uo.getTransfer(i.map.colorSpace)===`srgb`,decodeVideoTextureEmissive:L&&i.emissiveMap.isVideoTexture===!0&&uo.getTransfer(i.emissiveMap.colorSpace)===`srgb`,premultipliedAlpha:i.premultipliedAlpha,doubleSided:i.side===2,flipSided:i.side===1,useDepthPacking:i.depthPacking>=0,depthPacking:i.depthPacking||0,index0AttributeName:i.index0AttributeName,extensionClipCullDistance:Oe&&i.extensions.clipCullDistance===!0&&n.has(`WEBGL_clip_cull_distance`),extensionMultiDraw:(Oe&&i.extensions.multiDraw===!0||N)&&n.has(`WEBGL_multi_draw`),rendererExtensionParallelShaderCompile:n.has(`KHR_parallel_shader_compile`),customProgramCacheKey:i.customProgramCacheKey()};return W.vertexUv1s=c.has(1),W.vertexUv2s=c.has(2),W.vertexUv3s=c.has(3),c.clear(),W}function h(t){let n=[];if(t.shaderID?n.push(t.shaderID):(n.push(t.customVertexShaderID),n.push(t.customFragmentShaderID)),t.defines!==void 0)for(let e in t.defines)n.push(e),n.push(t.defines[e]);return t.isRawShaderMaterial===!1&&(g(n,t),_(n,t),n.push(e.outputColorSpace)),n.push(t.customProgramCacheKey),n.join()}function g(e,t){e.push(t.precision),e.push(t.outputColorSpace),e.push(t.envMapMode),e.push(t.envMapPMREM),e.push(t.envMapMaxLod),e.push(t.envMapSize),e.push(t.mapUv),e.push(t.alphaMapUv),e.push(t.lightMapUv),e.push(t.aoMapUv),e.push(t.bumpMapUv),e.push(t.normalMapUv),e.push(t.displacementMapUv),e.push(t.emissiveMapUv),e.push(t.metalnessMapUv),e.push(t.roughnessMapUv),e.push(t.anisotropyMapUv),e.push(t.clearcoatMapUv),e.push(t.clearcoatNormalMapUv),e.push(t.clearcoatRoughnessMapUv),e.push(t.diffuseRoughnessMapUv),e.push(t.iridescenceMapUv),e.push(t.iridescenceThicknessMapUv),e.push(t.sheenColorMapUv),e.push(t.sheenRoughnessMapUv),e.push(t.specularMapUv),e.push(t.specularColorMapUv),e.push(t.specularIntensityMapUv),e.push(t.transmissionMapUv),e.push(t.thicknessMapUv),e.push(t.combine),e.push(t.fogExp2),e.push(t.sizeAttenuation),e.push(t.morphTargetsCount),e.push(t.numSunLights),e.push(t.numDirLights),e.push(t.numPointLights),e.push(t.numSpotLights),e.push(t.numSpotLightMaps),e.push(t.numHemiLights),e.push(t.numRectAreaLights),e.push(t.numSunLightShadows),e.push(t.numDirLightShadows),e.push(t.numPointLightShadows),e.push(t.numSpotLightShadows),e.push(t.numSpotLightShadowsWithMaps),e.push(t.numLightProbes),e.push(t.numLightProbeGrids),e.push(t.shadowMapType),e.push(t.toneMapping),e.push(t.numClippingPlanes),e.push(t.numClipIntersection),e.push(t.depthPacking)}function _(e,t){o.disableAll(),t.instancing&&o.enable(0),t.instancingColor&&o.enable(1),t.instancingMorph&&o.enable(2),t.matcap&&o.enable(3),t.envMap&&o.enable(4),t.normalMapObjectSpace&&o.enable(5),t.normalMapTangentSpace&&o.enable(6),t.clearcoat&&o.enable(7),t.iridescence&&o.enable(8),t.alphaTest&&o.enable(9),t.vertexColors&&o.enable(10),t.vertexAlphas&&o.enable(11),t.vertexUv1s&&o.enable(12),t.vertexUv2s&&o.enable(13),t.vertexUv3s&&o.enable(14),t.vertexTangents&&o.enable(15),t.anisotropy&&o.enable(16),t.alphaHash&&o.enable(17),t.batching&&o.enable(18),t.dispersion&&o.enable(19),t.retroreflection&&o.enable(24),t.diffuseRoughness&&o.enable(25),t.batchingColor&&o.enable(20),t.gradientMap&&o.enable(21),t.packedNormalMap&&o.enable(22),t.vertexNormals&&o.enable(23),e.push(o.mask),o.disableAll(),t.fog&&o.enable(0),t.useFog&&o.enable(1),t.flatShading&&o.enable(2),t.logarithmicDepthBuffer&&o.enable(3),t.reversedDepthBuffer&&o.enable(4),t.skinning&&o.enable(5),t.morphTargets&&o.enable(6),t.morphNormals&&o.enable(7),t.morphColors&&o.enable(8),t.premultipliedAlpha&&o.enable(9),t.shadowMapEnabled&&o.enable(10),t.doubleSided&&o.enable(11),t.flipSided&&o.enable(12),t.useDepthPacking&&o.enable(13),t.dithering&&o.enable(14),t.transmission&&o.enable(15),t.sheen&&o.enable(16),t.opaque&&o.enable(17),t.pointsUvs&&o.enable(18),t.decodeVideoTexture&&o.enable(19),t.decodeVideoTextureEmissive&&o.enable(20),t.alphaToCoverage&&o.enable(21),t.numLightProbeGrids>0&&o.enable(22),t.hasPositionAttribute&&o.enable(23),e.push(o.mask)}function v(e){let t=f[e.type],n;if(t){let e=Zd[t];n=Hu.clone(e.uniforms)}else n=e.uniforms;return n}function y(t,n){let r=u.get(n);return r===void 0?(r=new ym(e,n,t,i),l.push(r),u.set(n,r)):++r.usedTimes,r}function b(e){if(--e.usedTimes===0){let t=l.indexOf(e);l[t]=l[l.length-1],l.pop(),u.delete(e.cacheKey),e.destroy()}}function x(e){s.remove(e)}function S(){s.dispose()}return{getParameters:m,getProgramCacheKey:h,getUniforms:v,acquireProgram:y,releaseProgram:b,releaseShaderCache:x,programs:l,dispose:S}}function Tm(){let e=new WeakMap;function t(t){return e.has(t)}function n(t){let n=e.get(t);return n===void 0&&(n={},e.set(t,n)),n}function r(t){e.delete(t)}function i(t,n,r){e.get(t)[n]=r}function a(){e=new WeakMap}return{has:t,get:n,remove:r,update:i,dispose:a}}function Em(e,t){return e.groupOrder===t.groupOrder?e.renderOrder===t.renderOrder?e.material.id===t.material.id?e.materialVariant===t.materialVariant?e.z===t.z?e.id-t.id:e.z-t.z:e.materialVariant-t.materialVariant:e.material.id-t.material.id:e.renderOrder-t.renderOrder:e.groupOrder-t.groupOrder}function Dm(e,t){return e.groupOrder===t.groupOrder?e.renderOrder===t.renderOrder?e.z===t.z?e.id-t.id:t.z-e.z:e.renderOrder-t.renderOrder:e.groupOrder-t.groupOrder}function Om(){let e=[],t=0,n=[],r=[],i=[];function a(){t=0,n.length=0,r.length=0,i.length=0}function o(e){let t=0;return e.isInstancedMesh&&(t+=2),e.isSkinnedMesh&&(t+=1),t}function s(n,r,i,a,s,c){let l=e[t];return l===void 0?(l={id:n.id,object:n,geometry:r,material:i,materialVariant:o(n),groupOrder:a,renderOrder:n.renderOrder,z:s,group:c},e[t]=l):(l.id=n.id,l.object=n,l.geometry=r,l.material=i,l.materialVariant=o(n),l.groupOrder=a,l.renderOrder=n.renderOrder,l.z=s,l.group=c),t++,l}function c(e,t,a,o,c,l,u){u.reversedDepth===!0&&(c=-c);let d=s(e,t,a,o,c,l);a.transmission>0?r.push(d):a.transparent===!0?i.push(d):n.push(d)}function l(e,t,a,o,c,l){let u=s(e,t,a,o,c,l);a.transmission>0?r.unshift(u):a.transparent===!0?i.unshift(u):n.unshift(u)}function u(e,t){n.length>1&&n.sort(e||Em),r.length>1&&r.sort(t||Dm),i.length>1&&i.sort(t||Dm)}function d(){for(let n=t,r=e.length;n<r;n++){let t=e[n];if(t.id===null)break;t.id=null,t.object=null,t.geometry=null,t.material=null,t.group=null}}return{opaque:n,transmissive:r,transparent:i,init:a,push:c,unshift:l,finish:d,sort:u}}function km(){let e=new WeakMap;function t(t,n){let r=e.get(t),i;return r===void 0?(i=new Om,e.set(t,[i])):n>=r.length?(i=new Om,r.push(i)):i=r[n],i}function n(){e=new WeakMap}return{get:t,dispose:n}}function Am(){let e={};return{get:function(t){if(e[t.id]!==void 0)return e[t.id];let n;switch(t.type){case`SunLight`:case`DirectionalLight`:n={direction:new Q,color:new cs};break;case`SpotLight`:n={position:new Q,direction:new Q,color:new cs,distance:0,coneCos:0,penumbraCos:0,decay:0};break;case`PointLight`:n={position:new Q,color:new cs,distance:0,decay:0};break;case`HemisphereLight`:n={direction:new Q,skyColor:new cs,groundColor:new cs};break;case`RectAreaLight`:n={color:new cs,position:new Q,halfWidth:new Q,halfHeight:new Q}}return e[t.id]=n,n}}}function jm(){let e={};return{get:function(t){if(e[t.id]!==void 0)return e[t.id];let n;switch(t.type){case`SunLight`:case`DirectionalLight`:n={shadowIntensity:1,shadowBias:0,shadowNormalBias:0,shadowRadius:1,shadowMapSize:new Z};break;case`SpotLight`:n={shadowIntensity:1,shadowBias:0,shadowNormalBias:0,shadowRadius:1,shadowMapSize:new Z};break;case`PointLight`:n={shadowIntensity:1,shadowBias:0,shadowNormalBias:0,shadowRadius:1,shadowMapSize:new Z,shadowCameraNear:1,shadowCameraFar:1e3}}return e[t.id]=n,n}}}var Mm=0;function Nm(e,t){return(t.castShadow?2:0)-(e.castShadow?2:0)+ +!!t.map-!!e.map}function Pm(e){let t=new Am,n=jm(),r={version:0,hash:{sunLength:-1,directionalLength:-1,pointLength:-1,spotLength:-1,rectAreaLength:-1,hemiLength:-1,numSunShadows:-1,numDirectionalShadows:-1,numPointShadows:-1,numSpotShadows:-1,numSpotMaps:-1,numLightProbes:-1},ambient:[0,0,0],probe:[],sun:[],sunShadow:[],sunShadowMap:[],sunShadowMatrix:[],sunShadowCascade:[],directional:[],directionalShadow:[],directionalShadowMap:[],directionalShadowMatrix:[],spot:[],spotLightMap:[],spotShadow:[],spotShadowMap:[],spotLightMatrix:[],rectArea:[],rectAreaLTC1:null,rectAreaLTC2:null,point:[],pointShadow:[],pointShadowMap:[],pointShadowMatrix:[],hemi:[],numSpotLightShadowsWithMaps:0,numLightProbes:0};for(let e=0;e<9;e++)r.probe.push(new Q);let i=new Q,a=new Do,o=new Do;function s(i){let a=0,o=0,s=0;for(let e=0;e<9;e++)r.probe[e].set(0,0,0);let c=0,l=0,u=0,d=0,f=0,p=0,m=0,h=0,g=0,_=0,v=0,y=0,b=0,x=0;i.sort(Nm);for(let e=0,S=i.length;e<S;e++){let S=i[e],C=S.color,w=S.intensity,T=S.distance,E=null;if(S.shadow&&S.shadow.map&&(E=S.shadow.map.texture.format===1030?S.shadow.map.texture:S.shadow.map.depthTexture||S.shadow.map.texture),S.isAmbientLight)a+=C.r*w,o+=C.g*w,s+=C.b*w;else if(S.isLightProbe){for(let e=0;e<9;e++)r.probe[e].addScaledVector(S.sh.coefficients[e],w);x++}else if(S.isSunLight){let e=t.get(S);if(e.color.copy(S.color).multiplyScalar(S.intensity),S.castShadow){let e=S.shadow,t=n.get(S);t.shadowIntensity=e.intensity,t.shadowBias=e.bias,t.shadowNormalBias=e.normalBias,t.shadowRadius=e.radius,t.shadowMapSize.copy(e.mapSize).multiply(e.getFrameExtents()),r.sunShadow[l]=t,r.sunShadowMap[l]=E;let i=e.getViewportCount();for(let t=0;t<i;t++)r.sunShadowMatrix[u+t]=e.getMatrix(t),r.sunShadowCascade[u+t]=e._cascadeData[t];u+=i,l++}r.sun[c]=e,c++}else if(S.isDirectionalLight){let e=t.get(S);if(e.color.copy(S.color).multiplyScalar(S.intensity),S.castShadow){let e=S.shadow,t=n.get(S);t.shadowIntensity=e.intensity,t.shadowBias=e.bias,t.shadowNormalBias=e.normalBias,t.shadowRadius=e.radius,t.shadowMapSize=e.mapSize,r.directionalShadow[d]=t,r.directionalShadowMap[d]=E,r.directionalShadowMatrix[d]=S.shadow.matrix,g++}r.directional[d]=e,d++}else if(S.isSpotLight){let e=t.get(S);e.position.setFromMatrixPosition(S.matrixWorld),e.color.copy(C).multiplyScalar(w),e.distance=T,e.coneCos=Math.cos(S.angle),e.penumbraCos=Math.cos(S.angle*(1-S.penumbra)),e.decay=S.decay,r.spot[p]=e;let i=S.shadow;if(S.map&&(r.spotLightMap[y]=S.map,y++,i.updateMatrices(S),S.castShadow&&b++),r.spotLightMatrix[p]=i.matrix,S.castShadow){let e=n.get(S);e.shadowIntensity=i.intensity,e.shadowBias=i.bias,e.shadowNormalBias=i.normalBias,e.shadowRadius=i.radius,e.shadowMapSize=i.mapSize,r.spotShadow[p]=e,r.spotShadowMap[p]=E,v++}p++}else if(S.isRectAreaLight){let e=t.get(S);e.color.copy(C).multiplyScalar(w),e.halfWidth.set(S.width*.5,0,0),e.halfHeight.set(0,S.height*.5,0),r.rectArea[m]=e,m++}else if(S.isPointLight){let e=t.get(S);if(e.color.copy(S.color).multiplyScalar(S.intensity),e.distance=S.distance,e.decay=S.decay,S.castShadow){let e=S.shadow,t=n.get(S);t.shadowIntensity=e.intensity,t.shadowBias=e.bias,t.shadowNormalBias=e.normalBias,t.shadowRadius=e.radius,t.shadowMapSize=e.mapSize,t.shadowCameraNear=e.camera.near,t.shadowCameraFar=e.camera.far,r.pointShadow[f]=t,r.pointShadowMap[f]=E,r.pointShadowMatrix[f]=S.shadow.matrix,_++}r.point[f]=e,f++}else if(S.isHemisphereLight){let e=t.get(S);e.skyColor.copy(S.color).multiplyScalar(w),e.groundColor.copy(S.groundColor).multiplyScalar(w),r.hemi[h]=e,h++}}m>0&&(e.has(`OES_texture_float_linear`)===!0?(r.rectAreaLTC1=$.LTC_FLOAT_1,r.rectAreaLTC2=$.LTC_FLOAT_2):(r.rectAreaLTC1=$.LTC_HALF_1,r.rectAreaLTC2=$.LTC_HALF_2)),r.ambient[0]=a,r.ambient[1]=o,r.ambient[2]=s;let S=r.hash;(S.sunLength!==c||S.directionalLength!==d||S.pointLength!==f||S.spotLength!==p||S.rectAreaLength!==m||S.hemiLength!==h||S.numSunShadows!==l||S.numDirectionalShadows!==g||S.numPointShadows!==_||S.numSpotShadows!==v||S.numSpotMaps!==y||S.numLightProbes!==x)&&(r.sun.length=c,r.directional.length=d,r.spot.length=p,r.rectArea.length=m,r.point.length=f,r.hemi.length=h,r.sunShadow.length=l,r.sunShadowMap.length=l,r.sunShadowMatrix.length=u,r.sunShadowCascade.length=u,r.directionalShadow.length=g,r.directionalShadowMap.length=g,r.directionalShadowMatrix.length=g,r.pointShadow.length=_,r.pointShadowMap.length=_,r.pointShadowMatrix.length=_,r.spotShadow.length=v,r.spotShadowMap.length=v,r.spotLightMatrix.length=v+y-b,r.spotLightMap.length=y,r.numSpotLightShadowsWithMaps=b,r.numLightProbes=x,S.sunLength=c,S.directionalLength=d,S.pointLength=f,S.spotLength=p,S.rectAreaLength=m,S.hemiLength=h,S.numSunShadows=l,S.numDirectionalShadows=g,S.numPointShadows=_,S.numSpotShadows=v,S.numSpotMaps=y,S.numLightProbes=x,r.version=Mm++)}function c(e,t){let n=0,s=0,c=0,l=0,u=0,d=0,f=t.matrixWorldInverse;for(let t=0,p=e.length;t<p;t++){let p=e[t];if(p.isSunLight){let e=r.sun[n];e.direction.setFromMatrixPosition(p.matrixWorld),e.direction.transformDirection(f),n++}else if(p.isDirectionalLight){let e=r.directional[s];e.direction.setFromMatrixPosition(p.matrixWorld),i.setFromMatrixPosition(p.target.matrixWorld),e.direction.sub(i),e.direction.transformDirection(f),s++}else if(p.isSpotLight){let e=r.spot[l];e.position.setFromMatrixPosition(p.matrixWorld),e.position.applyMatrix4(f),e.direction.setFromMatrixPosition(p.matrixWorld),i.setFromMatrixPosition(p.target.matrixWorld),e.direction.sub(i),e.direction.transformDirection(f),l++}else if(p.isRectAreaLight){let e=r.rectArea[u];e.position.setFromMatrixPosition(p.matrixWorld),e.position.applyMatrix4(f),o.identity(),a.copy(p.matrixWorld),a.premultiply(f),o.extractRotation(a),e.halfWidth.set(p.width*.5,0,0),e.halfHeight.set(0,p.height*.5,0),e.halfWidth.applyMatrix4(o),e.halfHeight.applyMatrix4(o),u++}else if(p.isPointLight){let e=r.point[c];e.position.setFromMatrixPosition(p.matrixWorld),e.position.applyMatrix4(f),c++}else if(p.isHemisphereLight){let e=r.hemi[d];e.direction.setFromMatrixPosition(p.matrixWorld),e.direction.transformDirection(f),d++}}}return{setup:s,setupView:c,state:r}}function Fm(e){let t=new Pm(e),n=[],r=[],i=[];function a(e){u.camera=e,n.length=0,r.length=0,i.length=0}function o(e){e.isLightProbeGrid?i.push(e):n.push(e)}function s(e){r.push(e)}function c(){t.setup(n),i.sort((e,t)=>e.priority-t.priority||e.id-t.id)}function l(e){t.setupView(n,e)}let u={lightsArray:n,shadowsArray:r,lightProbeGridArray:i,camera:null,lights:t,transmissionRenderTarget:{},textureUnits:0};return{init:a,state:u,setupLights:c,setupLightsView:l,pushLight:o,pushShadow:s}}function Im(e){let t=new WeakMap;function n(n,r=0){let i=t.get(n),a;return i===void 0?(a=new Fm(e),t.set(n,[a])):r>=i.length?(a=new Fm(e),i.push(a)):a=i[r],a}function r(){t=new WeakMap}return{get:n,dispose:r}}var Lm=`void main() {
	gl_Position = vec4( position, 1.0 );
}`,Rm=`uniform sampler2D shadow_pass;
uniform vec2 resolution;
uniform float radius;
void main() {
	const float samples = float( VSM_SAMPLES );
	float mean = 0.0;
	float squared_mean = 0.0;
	float uvStride = samples <= 1.0 ? 0.0 : 2.0 / ( samples - 1.0 );
	float uvStart = samples <= 1.0 ? 0.0 : - 1.0;
	for ( float i = 0.0; i < samples; i ++ ) {
		float uvOffset = uvStart + i * uvStride;
		#ifdef HORIZONTAL_PASS
			vec2 distribution = texture2D( shadow_pass, ( gl_FragCoord.xy + vec2( uvOffset, 0.0 ) * radius ) / resolution ).rg;
			mean += distribution.x;
			squared_mean += distribution.y * distribution.y + distribution.x * distribution.x;
		#else
			float depth = texture2D( shadow_pass, ( gl_FragCoord.xy + vec2( 0.0, uvOffset ) * radius ) / resolution ).r;
			mean += depth;
			squared_mean += depth * depth;
		#endif
	}
	mean = mean / samples;
	squared_mean = squared_mean / samples;
	float std_dev = sqrt( max( 0.0, squared_mean - mean * mean ) );
	gl_FragColor = vec4( mean, std_dev, 0.0, 1.0 );
}`,zm=[new Q(1,0,0),new Q(-1,0,0),new Q(0,1,0),new Q(0,-1,0),new Q(0,0,1),new Q(0,0,-1)],Bm=[new Q(0,-1,0),new Q(0,-1,0),new Q(0,0,1),new Q(0,0,-1),new Q(0,-1,0),new Q(0,-1,0)],Vm=new Do,Hm=new Q,Um=new Q;function Wm(e,t,n){let r=new Bc,i=new Z,a=new Z,o=new So,s=new qu,c=new Ju,l={},u=n.maxTextureSize,d={0:1,1:0,2:2},f=new Gu({defines:{VSM_SAMPLES:8},uniforms:{shadow_pass:{value:null},resolution:{value:new Z},radius:{value:4}},vertexShader:Lm,fragmentShader:Rm}),p=f.clone();p.defines.HORIZONTAL_PASS=1;let m=new lc;m.setAttribute(`position`,new Js(new Float32Array([-1,-1,.5,3,-1,.5,-1,3,.5]),3));let h=new Nc(m,f),g=this;this.enabled=!1,this.autoUpdate=!0,this.needsUpdate=!1,this.type=1;let _=this.type;this.render=function(t,n,s){if(g.enabled===!1||g.autoUpdate===!1&&g.needsUpdate===!1||t.length===0)return;this.type===2&&(X(`WebGLShadowMap: PCFSoftShadowMap has been removed. Using PCFShadowMap instead.`),this.type=1);let c=e.getRenderTarget(),l=e.getActiveCubeFace(),d=e.getActiveMipmapLevel(),f=e.state;f.setBlending(0),f.buffers.depth.getReversed()===!0?f.buffers.color.setClear(0,0,0,0):f.buffers.color.setClear(1,1,1,1),f.buffers.depth.setTest(!0),f.setScissorTest(!1);let p=_!==this.type;p&&n.traverse(function(e){e.material&&(Array.isArray(e.material)?e.material.forEach(e=>e.needsUpdate=!0):e.material.needsUpdate=!0)});for(let c=0,l=t.length;c<l;c++){let l=t[c],d=l.shadow;if(d===void 0){X(`WebGLShadowMap:`,l,`has no shadow.`);continue}if(d.autoUpdate===!1&&d.needsUpdate===!1)continue;i.copy(d.mapSize);let m=d.getFrameExtents();i.multiply(m),a.copy(d.mapSize),(i.x>u||i.y>u)&&(i.x>u&&(a.x=Math.floor(u/m.x),i.x=a.x*m.x,d.mapSize.x=a.x),i.y>u&&(a.y=Math.floor(u/m.y),i.y=a.y*m.y,d.mapSize.y=a.y));let h=e.state.buffers.depth.getReversed();if(d.camera._reversedDepth=h,d.map===null||p===!0){if(d.map!==null&&(d.map.depthTexture!==null&&(d.map.depthTexture.dispose(),d.map.depthTexture=null),d.map.dispose()),this.type===3){if(l.isPointLight){X(`WebGLShadowMap: VSM shadow maps are not supported for PointLights. Use PCF or BasicShadowMap instead.`);continue}d.map=new wo(i.x,i.y,{format:gi,type:ri,minFilter:qr,magFilter:qr,generateMipmaps:!1}),d.map.texture.name=l.name+`.shadowMap`,d.map.depthTexture=new ul(i.x,i.y,ni),d.map.depthTexture.name=l.name+`.shadowMapDepth`,d.map.depthTexture.format=fi,d.map.depthTexture.compareFunction=null,d.map.depthTexture.minFilter=Wr,d.map.depthTexture.magFilter=Wr}else l.isPointLight?(d.map=new sf(i.x),d.map.depthTexture=new dl(i.x,ti)):(d.map=new wo(i.x,i.y),d.map.depthTexture=new ul(i.x,i.y,ti)),d.map.depthTexture.name=l.name+`.shadowMap`,d.map.depthTexture.format=fi,this.type===1?(d.map.depthTexture.compareFunction=h?518:515,d.map.depthTexture.minFilter=qr,d.map.depthTexture.magFilter=qr):(d.map.depthTexture.compareFunction=null,d.map.depthTexture.minFilter=Wr,d.map.depthTexture.magFilter=Wr);d.camera.updateProjectionMatrix()}d.map.isWebGLCubeRenderTarget!==!0&&(d.map.width!==i.x||d.map.height!==i.y)&&d.map.setSize(i.x,i.y);let g=d.map.isWebGLCubeRenderTarget?6:d.getViewportCount();l.isPointLight!==!0&&d.updateMatrices(l,s);let _=d.camera.layers.mask&4294967294?d.camera.layers:s.layers;for(let t=0;t<g;t++){let i=d.getCamera(t);if(l.isPointLight){let e=d.camera,n=d.matrix,r=l.distance||e.far;r!==e.far&&(e.far=r,e.updateProjectionMatrix()),Hm.setFromMatrixPosition(l.matrixWorld),e.position.copy(Hm),Um.copy(e.position),Um.add(zm[t]),e.up.copy(Bm[t]),e.lookAt(Um),e.updateMatrixWorld(),n.makeTranslation(-Hm.x,-Hm.y,-Hm.z),Vm.multiplyMatrices(e.projectionMatrix,e.matrixWorldInverse),d._frustum.setFromProjectionMatrix(Vm,e.coordinateSystem,e.reversedDepth)}if(d.map.isWebGLCubeRenderTarget)e.setRenderTarget(d.map,t),e.clear();else{t===0&&(e.setRenderTarget(d.map),e.clear());let n=d.getViewport(t);o.set(a.x*n.x,a.y*n.y,a.x*n.z,a.y*n.w),f.viewport(o)}r=d.getFrustum(t),b(n,s,i,l,_,this.type)}d.isPointLightShadow!==!0&&this.type===3&&v(d,s),d.needsUpdate=!1}_=this.type,g.needsUpdate=!1,e.setRenderTarget(c,l,d)};function v(n,r){let a=t.update(h);f.defines.VSM_SAMPLES!==n.blurSamples&&(f.defines.VSM_SAMPLES=n.blurSamples,p.defines.VSM_SAMPLES=n.blurSamples,f.needsUpdate=!0,p.needsUpdate=!0),n.mapPass===null?n.mapPass=new wo(i.x,i.y,{format:gi,type:ri}):(n.mapPass.width!==n.map.width||n.mapPass.height!==n.map.height)&&n.mapPass.setSize(n.map.width,n.map.height),f.uniforms.shadow_pass.value=n.map.depthTexture,f.uniforms.resolution.value.set(n.map.width,n.map.height),f.uniforms.radius.value=n.radius,e.setRenderTarget(n.mapPass),e.clear(),e.renderBufferDirect(r,null,a,f,h,null),p.uniforms.shadow_pass.value=n.mapPass.texture,p.uniforms.resolution.value.set(n.map.width,n.map.height),p.uniforms.radius.value=n.radius,e.setRenderTarget(n.map),e.clear(),e.renderBufferDirect(r,null,a,p,h,null)}function y(t,n,r,i){let a=null,o=r.isPointLight===!0?t.customDistanceMaterial:t.customDepthMaterial;if(o!==void 0)a=o;else if(a=r.isPointLight===!0?c:s,e.localClippingEnabled&&n.clipShadows===!0&&Array.isArray(n.clippingPlanes)&&n.clippingPlanes.length!==0||n.displacementMap&&n.displacementScale!==0||n.alphaMap&&n.alphaTest>0||n.map&&n.alphaTest>0||n.alphaToCoverage===!0){let e=a.uuid,t=n.uuid,r=l[e];r===void 0&&(r={},l[e]=r);let i=r[t];i===void 0&&(i=a.clone(),r[t]=i,n.addEventListener(`dispose`,x)),a=i}if(a.visible=n.visible,a.wireframe=n.wireframe,i===3?a.side=n.shadowSide===null?n.side:n.shadowSide:a.side=n.shadowSide===null?d[n.side]:n.shadowSide,a.alphaMap=n.alphaMap,a.alphaTest=n.alphaToCoverage===!0?.5:n.alphaTest,a.map=n.map,a.clipShadows=n.clipShadows,a.clippingPlanes=n.clippingPlanes,a.clipIntersection=n.clipIntersection,a.displacementMap=n.displacementMap,a.displacementScale=n.displacementScale,a.displacementBias=n.displacementBias,a.wireframeLinewidth=n.wireframeLinewidth,a.linewidth=n.linewidth,r.isPointLight===!0&&a.isMeshDistanceMaterial===!0){let t=e.properties.get(a);t.light=r}return a}function b(n,i,a,o,s,c){if(n.visible===!1)return;if(n.layers.test(s)&&(n.isMesh||n.isLine||n.isPoints)&&(n.castShadow||n.receiveShadow&&c===3)&&(!n.frustumCulled||n.intersectsFrustum(r))){n.modelViewMatrix.multiplyMatrices(a.matrixWorldInverse,n.matrixWorld);let r=t.update(n),s=n.material;if(Array.isArray(s)){let t=r.groups;for(let l=0,u=t.length;l<u;l++){let u=t[l],d=s[u.materialIndex];if(d&&d.visible){let t=y(n,d,o,c);n.onBeforeShadow(e,n,i,a,r,t,u),e.renderBufferDirect(a,null,r,t,n,u),n.onAfterShadow(e,n,i,a,r,t,u)}}}else if(s.visible){let t=y(n,s,o,c);n.onBeforeShadow(e,n,i,a,r,t,null),e.renderBufferDirect(a,null,r,t,n,null),n.onAfterShadow(e,n,i,a,r,t,null)}}let l=n.children;for(let e=0,t=l.length;e<t;e++)b(l[e],i,a,o,s,c)}function x(e){e.target.removeEventListener(`dispose`,x);for(let t in l){let n=l[t],r=e.target.uuid;r in n&&(n[r].dispose(),delete n[r])}}}function Gm(e,t){function n(){let t=!1,n=new So,r=null,i=new So(0,0,0,0);return{setMask:function(n){r!==n&&!t&&(e.colorMask(n,n,n,n),r=n)},setLocked:function(e){t=e},setClear:function(t,r,a,o,s){s===!0&&(t*=o,r*=o,a*=o),n.set(t,r,a,o),i.equals(n)===!1&&(e.clearColor(t,r,a,o),i.copy(n))},reset:function(){t=!1,r=null,i.set(-1,0,0,0)}}}function r(){let n=!1,r=!1,i=null,a=null,o=null;return{setReversed:function(e){if(r!==e){let n=t.get(`EXT_clip_control`);e?n.clipControlEXT(n.LOWER_LEFT_EXT,n.ZERO_TO_ONE_EXT):n.clipControlEXT(n.LOWER_LEFT_EXT,n.NEGATIVE_ONE_TO_ONE_EXT),r=e;let i=o;o=null,this.setClear(i)}},getReversed:function(){return r},setTest:function(t){t?oe(e.DEPTH_TEST):R(e.DEPTH_TEST)},setMask:function(t){i!==t&&!n&&(e.depthMask(t),i=t)},setFunc:function(t){if(r&&(t=Ea[t]),a!==t){switch(t){case 0:e.depthFunc(e.NEVER);break;case 1:e.depthFunc(e.ALWAYS);break;case 2:e.depthFunc(e.LESS);break;case 3:e.depthFunc(e.LEQUAL);break;case 4:e.depthFunc(e.EQUAL);break;case 5:e.depthFunc(e.GEQUAL);break;case 6:e.depthFunc(e.GREATER);break;case 7:e.depthFunc(e.NOTEQUAL);break;default:e.depthFunc(e.LEQUAL)}a=t}},setLocked:function(e){n=e},setClear:function(t){o!==t&&(o=t,r&&(t=1-t),e.clearDepth(t))},reset:function(){n=!1,i=null,a=null,o=null,r=!1}}}function i(){let t=!1,n=null,r=null,i=null,a=null,o=null,s=null,c=null,l=null;return{setTest:function(n){t||(n?oe(e.STENCIL_TEST):R(e.STENCIL_TEST))},setMask:function(r){n!==r&&!t&&(e.stencilMask(r),n=r)},setFunc:function(t,n,o){(r!==t||i!==n||a!==o)&&(e.stencilFunc(t,n,o),r=t,i=n,a=o)},setOp:function(t,n,r){(o!==t||s!==n||c!==r)&&(e.stencilOp(t,n,r),o=t,s=n,c=r)},setLocked:function(e){t=e},setClear:function(t){l!==t&&(e.clearStencil(t),l=t)},reset:function(){t=!1,n=null,r=null,i=null,a=null,o=null,s=null,c=null,l=null}}}let a=new n,o=new r,s=new i,c={},l=new WeakMap,u={},d={},f={},p=new WeakMap,m=[],h=null,g=!1,_=null,v=null,y=null,b=null,x=null,S=null,C=null,w=new cs(0,0,0),T=0,E=!1,D=null,O=null,k=null,A=null,j=null,M=e.getParameter(e.MAX_COMBINED_TEXTURE_IMAGE_UNITS),N=!1,ee=0,te=e.getParameter(e.VERSION);te.indexOf(`WebGL`)===-1?te.indexOf(`OpenGL ES`)!==-1&&(ee=parseFloat(/^OpenGL ES (\d)/.exec(te)[1]),N=ee>=2):(ee=parseFloat(/^WebGL (\d)/.exec(te)[1]),N=ee>=1);let ne=null,re={},P=e.getParameter(e.SCISSOR_BOX),F=e.getParameter(e.VIEWPORT),ie=new So().fromArray(P),I=new So().fromArray(F);function ae(t,n,r,i){let a=new Uint8Array(4),o=e.createTexture();e.bindTexture(t,o),e.texParameteri(t,e.TEXTURE_MIN_FILTER,e.NEAREST),e.texParameteri(t,e.TEXTURE_MAG_FILTER,e.NEAREST);for(let o=0;o<r;o++)t===e.TEXTURE_3D||t===e.TEXTURE_2D_ARRAY?e.texImage3D(n,0,e.RGBA,1,1,i,0,e.RGBA,e.UNSIGNED_BYTE,a):e.texImage2D(n+o,0,e.RGBA,1,1,0,e.RGBA,e.UNSIGNED_BYTE,a);return o}let L={};L[e.TEXTURE_2D]=ae(e.TEXTURE_2D,e.TEXTURE_2D,1),L[e.TEXTURE_CUBE_MAP]=ae(e.TEXTURE_CUBE_MAP,e.TEXTURE_CUBE_MAP_POSITIVE_X,6),L[e.TEXTURE_2D_ARRAY]=ae(e.TEXTURE_2D_ARRAY,e.TEXTURE_2D_ARRAY,1,1),L[e.TEXTURE_3D]=ae(e.TEXTURE_3D,e.TEXTURE_3D,1,1),a.setClear(0,0,0,1),o.setClear(1),s.setClear(0),oe(e.DEPTH_TEST),o.setFunc(3),me(!1),he(1),oe(e.CULL_FACE),fe(0);function oe(t){u[t]!==!0&&(e.enable(t),u[t]=!0)}function R(t){u[t]!==!1&&(e.disable(t),u[t]=!1)}function se(t,n){return f[t]!==n&&(e.bindFramebuffer(t,n),f[t]=n,t===e.DRAW_FRAMEBUFFER&&(f[e.FRAMEBUFFER]=n),t===e.FRAMEBUFFER&&(f[e.DRAW_FRAMEBUFFER]=n),!0)}function ce(t,n){let r=m,i=!1;if(t){r=p.get(n),r===void 0&&(r=[],p.set(n,r));let a=t.textures;if(r.length!==a.length||r[0]!==e.COLOR_ATTACHMENT0){for(let t=0,n=a.length;t<n;t++)r[t]=e.COLOR_ATTACHMENT0+t;r.length=a.length,i=!0}}else r[0]!==e.BACK&&(r[0]=e.BACK,i=!0);i&&e.drawBuffers(r)}function le(t){return h!==t&&(e.useProgram(t),h=t,!0)}let ue={100:e.FUNC_ADD,101:e.FUNC_SUBTRACT,102:e.FUNC_REVERSE_SUBTRACT};ue[103]=e.MIN,ue[104]=e.MAX;let de={200:e.ZERO,201:e.ONE,202:e.SRC_COLOR,204:e.SRC_ALPHA,210:e.SRC_ALPHA_SATURATE,208:e.DST_COLOR,206:e.DST_ALPHA,203:e.ONE_MINUS_SRC_COLOR,205:e.ONE_MINUS_SRC_ALPHA,209:e.ONE_MINUS_DST_COLOR,207:e.ONE_MINUS_DST_ALPHA,211:e.CONSTANT_COLOR,212:e.ONE_MINUS_CONSTANT_COLOR,213:e.CONSTANT_ALPHA,214:e.ONE_MINUS_CONSTANT_ALPHA};function fe(t,n,r,i,a,o,s,c,l,u){if(t===0)g===!0&&(R(e.BLEND),g=!1);else if(g===!1&&(oe(e.BLEND),g=!0),t!==5){if(t!==_||u!==E){if((v!==100||x!==100)&&(e.blendEquation(e.FUNC_ADD),v=100,x=100),u)switch(t){case 1:e.blendFuncSeparate(e.ONE,e.ONE_MINUS_SRC_ALPHA,e.ONE,e.ONE_MINUS_SRC_ALPHA);break;case 2:e.blendFunc(e.ONE,e.ONE);break;case 3:e.blendFuncSeparate(e.ZERO,e.ONE_MINUS_SRC_COLOR,e.ZERO,e.ONE);break;case 4:e.blendFuncSeparate(e.DST_COLOR,e.ONE_MINUS_SRC_ALPHA,e.ZERO,e.ONE);break;default:Ca(`WebGLState: Invalid blending: `,t)}else switch(t){case 1:e.blendFuncSeparate(e.SRC_ALPHA,e.ONE_MINUS_SRC_ALPHA,e.ONE,e.ONE_MINUS_SRC_ALPHA);break;case 2:e.blendFuncSeparate(e.SRC_ALPHA,e.ONE,e.ONE,e.ONE);break;case 3:Ca(`WebGLState: SubtractiveBlending requires material.premultipliedAlpha = true`);break;case 4:Ca(`WebGLState: MultiplyBlending requires material.premultipliedAlpha = true`);break;default:Ca(`WebGLState: Invalid blending: `,t)}y=null,b=null,S=null,C=null,w.set(0,0,0),T=0,_=t,E=u}}else a||=n,o||=r,s||=i,(n!==v||a!==x)&&(e.blendEquationSeparate(ue[n],ue[a]),v=n,x=a),(r!==y||i!==b||o!==S||s!==C)&&(e.blendFuncSeparate(de[r],de[i],de[o],de[s]),y=r,b=i,S=o,C=s),(c.equals(w)===!1||l!==T)&&(e.blendColor(c.r,c.g,c.b,l),w.copy(c),T=l),_=t,E=!1}function pe(t,n){t.side===2?R(e.CULL_FACE):oe(e.CULL_FACE);let r=t.side===1;n&&(r=!r),me(r),t.blending===1&&t.transparent===!1?fe(0):fe(t.blending,t.blendEquation,t.blendSrc,t.blendDst,t.blendEquationAlpha,t.blendSrcAlpha,t.blendDstAlpha,t.blendColor,t.blendAlpha,t.premultipliedAlpha),o.setFunc(t.depthFunc),o.setTest(t.depthTest),o.setMask(t.depthWrite),a.setMask(t.colorWrite);let i=t.stencilWrite;s.setTest(i),i&&(s.setMask(t.stencilWriteMask),s.setFunc(t.stencilFunc,t.stencilRef,t.stencilFuncMask),s.setOp(t.stencilFail,t.stencilZFail,t.stencilZPass)),_e(t.polygonOffset,t.polygonOffsetFactor,t.polygonOffsetUnits),t.alphaToCoverage===!0?oe(e.SAMPLE_ALPHA_TO_COVERAGE):R(e.SAMPLE_ALPHA_TO_COVERAGE)}function me(t){D!==t&&(t?e.frontFace(e.CW):e.frontFace(e.CCW),D=t)}function he(t){t===0?R(e.CULL_FACE):(oe(e.CULL_FACE),t!==O&&(t===1?e.cullFace(e.BACK):t===2?e.cullFace(e.FRONT):e.cullFace(e.FRONT_AND_BACK))),O=t}function ge(t){t!==k&&(N&&e.lineWidth(t),k=t)}function _e(t,n,r){t?(oe(e.POLYGON_OFFSET_FILL),(A!==n||j!==r)&&(A=n,j=r,o.getReversed()&&(n=-n,r=-r),e.polygonOffset(n,r))):R(e.POLYGON_OFFSET_FILL)}function ve(t){t?oe(e.SCISSOR_TEST):R(e.SCISSOR_TEST)}function ye(t){t===void 0&&(t=e.TEXTURE0+M-1),ne!==t&&(e.activeTexture(t),ne=t)}function z(t,n,r){r===void 0&&(r=ne===null?e.TEXTURE0+M-1:ne);let i=re[r];i===void 0&&(i={type:void 0,texture:void 0},re[r]=i),(i.type!==t||i.texture!==n)&&(ne!==r&&(e.activeTexture(r),ne=r),e.bindTexture(t,n||L[t]),i.type=t,i.texture=n)}function B(){let t=re[ne];t!==void 0&&t.type!==void 0&&(e.bindTexture(t.type,null),t.type=void 0,t.texture=void 0)}function V(){try{e.compressedTexImage2D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function be(){try{e.compressedTexImage3D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function H(){try{e.texSubImage2D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function xe(){try{e.texSubImage3D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function U(){try{e.compressedTexSubImage2D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function Se(){try{e.compressedTexSubImage3D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function Ce(){try{e.texStorage2D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function we(){try{e.texStorage3D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function Te(){try{e.texImage2D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function Ee(){try{e.texImage3D(...arguments)}catch(e){Ca(`WebGLState:`,e)}}function De(t){return d[t]===void 0?e.getParameter(t):d[t]}function Oe(t,n){d[t]!==n&&(e.pixelStorei(t,n),d[t]=n)}function ke(t){ie.equals(t)===!1&&(e.scissor(t.x,t.y,t.z,t.w),ie.copy(t))}function Ae(t){I.equals(t)===!1&&(e.viewport(t.x,t.y,t.z,t.w),I.copy(t))}function W(t,n){let r=l.get(n);r===void 0&&(r=new WeakMap,l.set(n,r));let i=r.get(t);i===void 0&&(i=e.getUniformBlockIndex(n,t.name),e.uniformBlockBinding(n,i,i),r.set(t,i))}function je(t,n,r){let i=l.get(n).get(t);c[i]!==r&&(e.bindBufferBase(e.UNIFORM_BUFFER,i,r),c[i]=r)}function Me(){e.disable(e.BLEND),e.disable(e.CULL_FACE),e.disable(e.DEPTH_TEST),e.disable(e.POLYGON_OFFSET_FILL),e.disable(e.SCISSOR_TEST),e.disable(e.STENCIL_TEST),e.disable(e.SAMPLE_ALPHA_TO_COVERAGE),e.blendEquation(e.FUNC_ADD),e.blendFunc(e.ONE,e.ZERO),e.blendFuncSeparate(e.ONE,e.ZERO,e.ONE,e.ZERO),e.blendColor(0,0,0,0),e.colorMask(!0,!0,!0,!0),e.clearColor(0,0,0,0),e.depthMask(!0),e.depthFunc(e.LESS),o.setReversed(!1),e.clearDepth(1),e.stencilMask(4294967295),e.stencilFunc(e.ALWAYS,0,4294967295),e.stencilOp(e.KEEP,e.KEEP,e.KEEP),e.clearStencil(0),e.cullFace(e.BACK),e.frontFace(e.CCW),e.polygonOffset(0,0),e.activeTexture(e.TEXTURE0),e.bindFramebuffer(e.FRAMEBUFFER,null),e.bindFramebuffer(e.DRAW_FRAMEBUFFER,null),e.bindFramebuffer(e.READ_FRAMEBUFFER,null),e.useProgram(null),e.lineWidth(1),e.scissor(0,0,e.canvas.width,e.canvas.height),e.viewport(0,0,e.canvas.width,e.canvas.height),e.pixelStorei(e.PACK_ALIGNMENT,4),e.pixelStorei(e.UNPACK_ALIGNMENT,4),e.pixelStorei(e.UNPACK_FLIP_Y_WEBGL,!1),e.pixelStorei(e.UNPACK_PREMULTIPLY_ALPHA_WEBGL,!1),e.pixelStorei(e.UNPACK_COLORSPACE_CONVERSION_WEBGL,e.BROWSER_DEFAULT_WEBGL),e.pixelStorei(e.PACK_ROW_LENGTH,0),e.pixelStorei(e.PACK_SKIP_PIXELS,0),e.pixelStorei(e.PACK_SKIP_ROWS,0),e.pixelStorei(e.UNPACK_ROW_LENGTH,0),e.pixelStorei(e.UNPACK_IMAGE_HEIGHT,0),e.pixelStorei(e.UNPACK_SKIP_PIXELS,0),e.pixelStorei(e.UNPACK_SKIP_ROWS,0),e.pixelStorei(e.UNPACK_SKIP_IMAGES,0),u={},d={},ne=null,re={},f={},c={},p=new WeakMap,m=[],h=null,g=!1,_=null,v=null,y=null,b=null,x=null,S=null,C=null,w=new cs(0,0,0),T=0,E=!1,D=null,O=null,k=null,A=null,j=null,ie.set(0,0,e.canvas.width,e.canvas.height),I.set(0,0,e.canvas.width,e.canvas.height),a.reset(),o.reset(),s.reset()}return{buffers:{color:a,depth:o,stencil:s},enable:oe,disable:R,bindFramebuffer:se,drawBuffers:ce,useProgram:le,setBlending:fe,setMaterial:pe,setFlipSided:me,setCullFace:he,setLineWidth:ge,setPolygonOffset:_e,setScissorTest:ve,activeTexture:ye,bindTexture:z,unbindTexture:B,compressedTexImage2D:V,compressedTexImage3D:be,texImage2D:Te,texImage3D:Ee,pixelStorei:Oe,getParameter:De,updateUBOMapping:W,uniformBlockBinding:je,texStorage2D:Ce,texStorage3D:we,texSubImage2D:H,texSubImage3D:xe,compressedTexSubImage2D:U,compressedTexSubImage3D:Se,scissor:ke,viewport:Ae,reset:Me}}function Km(e,t,n,r,i,a,o){let s=t.has(`WEBGL_multisampled_render_to_texture`)?t.get(`WEBGL_multisampled_render_to_texture`):null,c=typeof navigator>`u`?!1:/OculusBrowser/g.test(navigator.userAgent),l=new Z,u=new WeakMap,d=new Set,f,p=new WeakMap,m=new Set,h=new FinalizationRegistry(e=>m.delete(e)),g=!1;try{g=typeof OffscreenCanvas<`u`&&new OffscreenCanvas(1,1).getContext(`2d`)!==null}catch{}function _(e,t){return g?new OffscreenCanvas(e,t):va(`canvas`)}function v(e,t,n){let r=1,i=Ce(e);if((i.width>n||i.height>n)&&(r=n/Math.max(i.width,i.height)),r<1){if(typeof HTMLImageElement<`u`&&e instanceof HTMLImageElement||typeof HTMLCanvasElement<`u`&&e instanceof HTMLCanvasElement||typeof ImageBitmap<`u`&&e instanceof ImageBitmap||typeof VideoFrame<`u`&&e instanceof VideoFrame){let n=Math.floor(r*i.width),a=Math.floor(r*i.height);f===void 0&&(f=_(n,a));let o=t?_(n,a):f;return o.width=n,o.height=a,o.getContext(`2d`).drawImage(e,0,0,n,a),X(`WebGLRenderer: Texture has been resized from (`+i.width+`x`+i.height+`) to (`+n+`x`+a+`).`),o}return`data`in e&&X(`WebGLRenderer: Image in DataTexture is too big (`+i.width+`x`+i.height+`).`),e}return e}function y(e){return e.generateMipmaps}function b(t){e.generateMipmap(t)}function x(t){return t.isWebGLCubeRenderTarget?e.TEXTURE_CUBE_MAP:t.isWebGL3DRenderTarget?e.TEXTURE_3D:t.isWebGLArrayRenderTarget||t.isCompressedArrayTexture?e.TEXTURE_2D_ARRAY:e.TEXTURE_2D}function S(n,r,i,a,o,s=!1){if(n!==null){if(e[n]!==void 0)return e[n];X(`WebGLRenderer: Attempt to use non-existing WebGL internal format '`+n+`'`)}let c;a&&(c=t.get(`EXT_texture_norm16`),c||X(`WebGLRenderer: Unable to use normalized textures without EXT_texture_norm16 extension`));let l=r;if(r===e.RED&&(i===e.FLOAT&&(l=e.R32F),i===e.HALF_FLOAT&&(l=e.R16F),i===e.UNSIGNED_BYTE&&(l=e.R8),i===e.UNSIGNED_SHORT&&c&&(l=c.R16_EXT),i===e.SHORT&&c&&(l=c.R16_SNORM_EXT)),r===e.RED_INTEGER&&(i===e.UNSIGNED_BYTE&&(l=e.R8UI),i===e.UNSIGNED_SHORT&&(l=e.R16UI),i===e.UNSIGNED_INT&&(l=e.R32UI),i===e.BYTE&&(l=e.R8I),i===e.SHORT&&(l=e.R16I),i===e.INT&&(l=e.R32I)),r===e.RG&&(i===e.FLOAT&&(l=e.RG32F),i===e.HALF_FLOAT&&(l=e.RG16F),i===e.UNSIGNED_BYTE&&(l=e.RG8),i===e.UNSIGNED_SHORT&&c&&(l=c.RG16_EXT),i===e.SHORT&&c&&(l=c.RG16_SNORM_EXT)),r===e.RG_INTEGER&&(i===e.UNSIGNED_BYTE&&(l=e.RG8UI),i===e.UNSIGNED_SHORT&&(l=e.RG16UI),i===e.UNSIGNED_INT&&(l=e.RG32UI),i===e.BYTE&&(l=e.RG8I),i===e.SHORT&&(l=e.RG16I),i===e.INT&&(l=e.RG32I)),r===e.RGB_INTEGER&&(i===e.UNSIGNED_BYTE&&(l=e.RGB8UI),i===e.UNSIGNED_SHORT&&(l=e.RGB16UI),i===e.UNSIGNED_INT&&(l=e.RGB32UI),i===e.BYTE&&(l=e.RGB8I),i===e.SHORT&&(l=e.RGB16I),i===e.INT&&(l=e.RGB32I)),r===e.RGBA_INTEGER&&(i===e.UNSIGNED_BYTE&&(l=e.RGBA8UI),i===e.UNSIGNED_SHORT&&(l=e.RGBA16UI),i===e.UNSIGNED_INT&&(l=e.RGBA32UI),i===e.BYTE&&(l=e.RGBA8I),i===e.SHORT&&(l=e.RGBA16I),i===e.INT&&(l=e.RGBA32I)),r===e.RGB&&(i===e.UNSIGNED_SHORT&&c&&(l=c.RGB16_EXT),i===e.SHORT&&c&&(l=c.RGB16_SNORM_EXT),i===e.UNSIGNED_INT_5_9_9_9_REV&&(l=e.RGB9_E5),i===e.UNSIGNED_INT_10F_11F_11F_REV&&(l=e.R11F_G11F_B10F)),r===e.RGBA){let t=s?da:uo.getTransfer(o);i===e.FLOAT&&(l=e.RGBA32F),i===e.HALF_FLOAT&&(l=e.RGBA16F),i===e.UNSIGNED_BYTE&&(l=t===`srgb`?e.SRGB8_ALPHA8:e.RGBA8),i===e.UNSIGNED_SHORT&&c&&(l=c.RGBA16_EXT),i===e.SHORT&&c&&(l=c.RGBA16_SNORM_EXT),i===e.UNSIGNED_SHORT_4_4_4_4&&(l=e.RGBA4),i===e.UNSIGNED_SHORT_5_5_5_1&&(l=e.RGB5_A1)}return(l===e.R16F||l===e.R32F||l===e.RG16F||l===e.RG32F||l===e.RGBA16F||l===e.RGBA32F)&&t.get(`EXT_color_buffer_float`),l}function C(t,n){let r;return t?n===null||n===1014||n===1020?r=e.DEPTH24_STENCIL8:n===1015?r=e.DEPTH32F_STENCIL8:n===1012&&(r=e.DEPTH24_STENCIL8,X(`DepthTexture: 16 bit depth attachment is not supported with stencil. Using 24-bit attachment.`)):n===null||n===1014||n===1020?r=e.DEPTH_COMPONENT24:n===1015?r=e.DEPTH_COMPONENT32F:n===1012&&(r=e.DEPTH_COMPONENT16),r}function w(e,t){return y(e)===!0||e.isFramebufferTexture&&e.minFilter!==1003&&e.minFilter!==1006?Math.log2(Math.max(t.width,t.height))+1:e.mipmaps.length>0?e.mipmaps.length:e.isCompressedTexture&&Array.isArray(e.image)?t.mipmaps.length:1}function T(e){let t=new WeakRef(e);r.get(e).__ref=t,m.add(t),h.register(e,t,t)}function E(e){let t=r.get(e).__ref;t!==void 0&&(m.delete(t),h.unregister(t))}function D(e){k(e.target)}function O(e){A(e.target)}function k(e){e.removeEventListener(`dispose`,D),E(e),M(e),e.isVideoTexture&&u.delete(e),e.isHTMLTexture&&d.delete(e)}function A(e){e.removeEventListener(`dispose`,O),E(e),ee(e)}function j(){for(let e of m){let t=e.deref();t!==void 0&&(t.isRenderTarget===!0?A(t):k(t))}m.clear(),d.clear()}function M(e){let t=r.get(e);if(t.__webglInit===void 0)return;let n=e.source,i=p.get(n);if(i){let r=i[t.__cacheKey];r.usedTimes--,r.usedTimes===0&&N(e),Object.keys(i).length===0&&p.delete(n)}r.remove(e)}function N(t){let n=r.get(t);e.deleteTexture(n.__webglTexture);let i=t.source,a=p.get(i);delete a[n.__cacheKey],o.memory.textures--}function ee(t){let n=r.get(t);n.__depthDisposeCallback&&n.__depthDisposeCallback();let i=t.depthTexture;if(i&&i.renderTarget===t&&k(i),t.isWebGLCubeRenderTarget)for(let t=0;t<6;t++){if(Array.isArray(n.__webglFramebuffer[t]))for(let r=0;r<n.__webglFramebuffer[t].length;r++)e.deleteFramebuffer(n.__webglFramebuffer[t][r]);else e.deleteFramebuffer(n.__webglFramebuffer[t]);n.__webglDepthbuffer&&e.deleteRenderbuffer(n.__webglDepthbuffer[t])}else{if(Array.isArray(n.__webglFramebuffer))for(let t=0;t<n.__webglFramebuffer.length;t++)e.deleteFramebuffer(n.__webglFramebuffer[t]);else e.deleteFramebuffer(n.__webglFramebuffer);if(n.__webglDepthbuffer&&e.deleteRenderbuffer(n.__webglDepthbuffer),n.__webglMultisampledFramebuffer&&e.deleteFramebuffer(n.__webglMultisampledFramebuffer),n.__webglColorRenderbuffer)for(let t=0;t<n.__webglColorRenderbuffer.length;t++)n.__webglColorRenderbuffer[t]&&e.deleteRenderbuffer(n.__webglColorRenderbuffer[t]);n.__webglDepthRenderbuffer&&e.deleteRenderbuffer(n.__webglDepthRenderbuffer)}let a=t.textures;for(let t=0,n=a.length;t<n;t++){let n=r.get(a[t]);n.__webglTexture&&(e.deleteTexture(n.__webglTexture),o.memory.textures--),r.remove(a[t])}r.remove(t)}let te=0;function ne(){te=0}function re(){return te}function P(e){te=e}function F(){let e=te;return e>=i.maxTextures&&X(`WebGLTextures: Trying to use `+(e+1)+` texture units while this GPU supports only `+i.maxTextures),te+=1,e}function ie(e){let t=[];return t.push(e.wrapS),t.push(e.wrapT),t.push(e.wrapR||0),t.push(e.magFilter),t.push(e.minFilter),t.push(e.anisotropy),t.push(e.internalFormat),t.push(e.format),t.push(e.type),t.push(e.generateMipmaps),t.push(e.mipmapsAutoUpdate),t.push(e.premultiplyAlpha),t.push(e.flipY),t.push(e.unpackAlignment),t.push(e.colorSpace),t.join()}function I(t,i){let a=r.get(t);if(t.isVideoTexture&&U(t),t.isRenderTargetTexture===!1&&t.isExternalTexture!==!0&&t.version>0&&a.__version!==t.version){let e=t.image;if(e===null)X(`WebGLRenderer: Texture marked for update but no image data found.`);else if(e.complete===!1)X(`WebGLRenderer: Texture marked for update but image is incomplete`);else{pe(a,t,i);return}}else t.isExternalTexture&&(a.__webglTexture=t.sourceTexture?t.sourceTexture:null);n.bindTexture(e.TEXTURE_2D,a.__webglTexture,e.TEXTURE0+i)}function ae(t,i){let a=r.get(t);t.isRenderTargetTexture===!1&&t.version>0&&a.__version!==t.version?pe(a,t,i):(t.isExternalTexture&&(a.__webglTexture=t.sourceTexture?t.sourceTexture:null),n.bindTexture(e.TEXTURE_2D_ARRAY,a.__webglTexture,e.TEXTURE0+i))}function L(t,i){let a=r.get(t);t.isRenderTargetTexture===!1&&t.version>0&&a.__version!==t.version?pe(a,t,i):n.bindTexture(e.TEXTURE_3D,a.__webglTexture,e.TEXTURE0+i)}function oe(t,i){let a=r.get(t);t.version>0&&a.__version!==t.version?me(a,t,i):n.bindTexture(e.TEXTURE_CUBE_MAP,a.__webglTexture,e.TEXTURE0+i)}let R={[Vr]:e.REPEAT,[Hr]:e.CLAMP_TO_EDGE,[Ur]:e.MIRRORED_REPEAT},se={[Wr]:e.NEAREST,[Gr]:e.NEAREST_MIPMAP_NEAREST,[Kr]:e.NEAREST_MIPMAP_LINEAR,[qr]:e.LINEAR,[Jr]:e.LINEAR_MIPMAP_NEAREST,[Yr]:e.LINEAR_MIPMAP_LINEAR},ce={512:e.NEVER,519:e.ALWAYS,513:e.LESS,515:e.LEQUAL,514:e.EQUAL,518:e.GEQUAL,516:e.GREATER,517:e.NOTEQUAL};function le(n,a){if(a.type===1015&&t.has(`OES_texture_float_linear`)===!1&&(a.magFilter===1006||a.magFilter===1007||a.magFilter===1005||a.magFilter===1008||a.minFilter===1006||a.minFilter===1007||a.minFilter===1005||a.minFilter===1008)&&X(`WebGLRenderer: Unable to use linear filtering with floating point textures. OES_texture_float_linear not supported on this device.`),e.texParameteri(n,e.TEXTURE_WRAP_S,R[a.wrapS]),e.texParameteri(n,e.TEXTURE_WRAP_T,R[a.wrapT]),(n===e.TEXTURE_3D||n===e.TEXTURE_2D_ARRAY)&&e.texParameteri(n,e.TEXTURE_WRAP_R,R[a.wrapR]),e.texParameteri(n,e.TEXTURE_MAG_FILTER,se[a.magFilter]),e.texParameteri(n,e.TEXTURE_MIN_FILTER,se[a.minFilter]),a.compareFunction&&(e.texParameteri(n,e.TEXTURE_COMPARE_MODE,e.COMPARE_REF_TO_TEXTURE),e.texParameteri(n,e.TEXTURE_COMPARE_FUNC,ce[a.compareFunction])),t.has(`EXT_texture_filter_anisotropic`)===!0){if(a.magFilter===1003||a.minFilter!==1005&&a.minFilter!==1008||a.type===1015&&t.has(`OES_texture_float_linear`)===!1)return;if(a.anisotropy>1||r.get(a).__currentAnisotropy){let o=t.get(`EXT_texture_filter_anisotropic`);e.texParameterf(n,o.TEXTURE_MAX_ANISOTROPY_EXT,Math.min(a.anisotropy,i.getMaxAnisotropy())),r.get(a).__currentAnisotropy=a.anisotropy}}}function ue(t,n){let r=!1;t.__webglInit===void 0&&(t.__webglInit=!0,n.addEventListener(`dispose`,D),T(n));let i=n.source,a=p.get(i);a===void 0&&(a={},p.set(i,a));let s=ie(n);if(s!==t.__cacheKey){a[s]===void 0&&(a[s]={texture:e.createTexture(),usedTimes:0},o.memory.textures++,r=!0),a[s].usedTimes++;let i=a[t.__cacheKey];i!==void 0&&(a[t.__cacheKey].usedTimes--,i.usedTimes===0&&N(n)),t.__cacheKey=s,t.__webglTexture=a[s].texture}return r}function de(e,t,n){return Math.floor(Math.floor(e/n)/t)}function fe(t,r,i,a){let o=t.updateRanges;if(o.length===0)n.texSubImage2D(e.TEXTURE_2D,0,0,0,r.width,r.height,i,a,r.data);else{o.sort((e,t)=>e.start-t.start);let s=0;for(let e=1;e<o.length;e++){let t=o[s],n=o[e],i=t.start+t.count,a=de(n.start,r.width,4),c=de(t.start,r.width,4);n.start<=i+1&&a===c&&de(n.start+n.count-1,r.width,4)===a?t.count=Math.max(t.count,n.start+n.count-t.start):(++s,o[s]=n)}o.length=s+1;let c=n.getParameter(e.UNPACK_ROW_LENGTH),l=n.getParameter(e.UNPACK_SKIP_PIXELS),u=n.getParameter(e.UNPACK_SKIP_ROWS);n.pixelStorei(e.UNPACK_ROW_LENGTH,r.width);for(let t=0,s=o.length;t<s;t++){let s=o[t],c=Math.floor(s.start/4),l=Math.ceil(s.count/4),u=c%r.width,d=Math.floor(c/r.width),f=l;n.pixelStorei(e.UNPACK_SKIP_PIXELS,u),n.pixelStorei(e.UNPACK_SKIP_ROWS,d),n.texSubImage2D(e.TEXTURE_2D,0,u,d,f,1,i,a,r.data)}t.clearUpdateRanges(),n.pixelStorei(e.UNPACK_ROW_LENGTH,c),n.pixelStorei(e.UNPACK_SKIP_PIXELS,l),n.pixelStorei(e.UNPACK_SKIP_ROWS,u)}}function pe(t,o,s){let c=e.TEXTURE_2D;(o.isDataArrayTexture||o.isCompressedArrayTexture)&&(c=e.TEXTURE_2D_ARRAY),o.isData3DTexture&&(c=e.TEXTURE_3D);let l=ue(t,o),u=o.source;n.bindTexture(c,t.__webglTexture,e.TEXTURE0+s);let f=r.get(u);if(u.version!==f.__version||l===!0){if(n.activeTexture(e.TEXTURE0+s),!(typeof ImageBitmap<`u`&&o.image instanceof ImageBitmap)){let t=uo.getPrimaries(uo.workingColorSpace),r=o.colorSpace===``?null:uo.getPrimaries(o.colorSpace),i=o.colorSpace===``||t===r?e.NONE:e.BROWSER_DEFAULT_WEBGL;n.pixelStorei(e.UNPACK_FLIP_Y_WEBGL,o.flipY),n.pixelStorei(e.UNPACK_PREMULTIPLY_ALPHA_WEBGL,o.premultiplyAlpha),n.pixelStorei(e.UNPACK_COLORSPACE_CONVERSION_WEBGL,i)}n.pixelStorei(e.UNPACK_ALIGNMENT,o.unpackAlignment);let t=v(o.image,!1,i.maxTextureSize);t=Se(o,t);let r=a.convert(o.format,o.colorSpace),p=a.convert(o.type),m=S(o.internalFormat,r,p,o.normalized,o.colorSpace,o.isVideoTexture);le(c,o);let h,g=o.mipmaps,_=o.isVideoTexture!==!0,x=f.__version===void 0||l===!0,T=u.dataReady,E=w(o,t);if(o.isDepthTexture)m=C(o.format===pi,o.type),x&&(_?n.texStorage2D(e.TEXTURE_2D,1,m,t.width,t.height):n.texImage2D(e.TEXTURE_2D,0,m,t.width,t.height,0,r,p,null));else if(o.isDataTexture){if(g.length>0){_&&x&&n.texStorage2D(e.TEXTURE_2D,E,m,g[0].width,g[0].height);for(let t=0,i=g.length;t<i;t++)h=g[t],_?T&&n.texSubImage2D(e.TEXTURE_2D,t,0,0,h.width,h.height,r,p,h.data):n.texImage2D(e.TEXTURE_2D,t,m,h.width,h.height,0,r,p,h.data);o.generateMipmaps=!1}else _?(x&&n.texStorage2D(e.TEXTURE_2D,E,m,t.width,t.height),T&&fe(o,t,r,p)):n.texImage2D(e.TEXTURE_2D,0,m,t.width,t.height,0,r,p,t.data)}else if(o.isCompressedTexture){if(o.isCompressedArrayTexture){_&&x&&n.texStorage3D(e.TEXTURE_2D_ARRAY,E,m,g[0].width,g[0].height,t.depth);for(let i=0,a=g.length;i<a;i++)if(h=g[i],o.format!==1023){if(r!==null){if(_){if(T){if(o.layerUpdates.size>0){let t=Kd(h.width,h.height,o.format,o.type);for(let a of o.layerUpdates){let o=h.data.subarray(a*t/h.data.BYTES_PER_ELEMENT,(a+1)*t/h.data.BYTES_PER_ELEMENT);n.compressedTexSubImage3D(e.TEXTURE_2D_ARRAY,i,0,0,a,h.width,h.height,1,r,o)}}else n.compressedTexSubImage3D(e.TEXTURE_2D_ARRAY,i,0,0,0,h.width,h.height,t.depth,r,h.data)}}else n.compressedTexImage3D(e.TEXTURE_2D_ARRAY,i,m,h.width,h.height,t.depth,0,h.data,0,0)}else X(`WebGLRenderer: Attempt to load unsupported compressed texture format in .uploadTexture()`)}else _?T&&n.texSubImage3D(e.TEXTURE_2D_ARRAY,i,0,0,0,h.width,h.height,t.depth,r,p,h.data):n.texImage3D(e.TEXTURE_2D_ARRAY,i,m,h.width,h.height,t.depth,0,r,p,h.data);o.layerUpdates.size>0&&o.clearLayerUpdates()}else{_&&x&&n.texStorage2D(e.TEXTURE_2D,E,m,g[0].width,g[0].height);for(let t=0,i=g.length;t<i;t++)h=g[t],o.format===1023?_?T&&n.texSubImage2D(e.TEXTURE_2D,t,0,0,h.width,h.height,r,p,h.data):n.texImage2D(e.TEXTURE_2D,t,m,h.width,h.height,0,r,p,h.data):r===null?X(`WebGLRenderer: Attempt to load unsupported compressed texture format in .uploadTexture()`):_?T&&n.compressedTexSubImage2D(e.TEXTURE_2D,t,0,0,h.width,h.height,r,h.data):n.compressedTexImage2D(e.TEXTURE_2D,t,m,h.width,h.height,0,h.data)}}else if(o.isDataArrayTexture){if(_){if(x&&n.texStorage3D(e.TEXTURE_2D_ARRAY,E,m,t.width,t.height,t.depth),T){if(o.layerUpdates.size>0){let i=Kd(t.width,t.height,o.format,o.type);for(let a of o.layerUpdates){let o=t.data.subarray(a*i/t.data.BYTES_PER_ELEMENT,(a+1)*i/t.data.BYTES_PER_ELEMENT);n.texSubImage3D(e.TEXTURE_2D_ARRAY,0,0,0,a,t.width,t.height,1,r,p,o)}o.clearLayerUpdates()}else n.texSubImage3D(e.TEXTURE_2D_ARRAY,0,0,0,0,t.width,t.height,t.depth,r,p,t.data)}}else n.texImage3D(e.TEXTURE_2D_ARRAY,0,m,t.width,t.height,t.depth,0,r,p,t.data)}else if(o.isData3DTexture)_?(x&&n.texStorage3D(e.TEXTURE_3D,E,m,t.width,t.height,t.depth),T&&n.texSubImage3D(e.TEXTURE_3D,0,0,0,0,t.width,t.height,t.depth,r,p,t.data)):n.texImage3D(e.TEXTURE_3D,0,m,t.width,t.height,t.depth,0,r,p,t.data);else if(o.isFramebufferTexture){if(x){if(_)n.texStorage2D(e.TEXTURE_2D,E,m,t.width,t.height);else{let i=t.width,a=t.height;for(let t=0;t<E;t++)n.texImage2D(e.TEXTURE_2D,t,m,i,a,0,r,p,null),i>>=1,a>>=1}}}else if(o.isHTMLTexture){if(`texElementImage2D`in e){let n=e.canvas;if(n.hasAttribute(`layoutsubtree`)||n.setAttribute(`layoutsubtree`,`true`),t.parentNode!==n){n.appendChild(t),d.add(o),n.onpaint=e=>{let t=e.changedElements;for(let e of d)t.includes(e.image)&&(e.needsUpdate=!0)},n.requestPaint();return}if(e.texElementImage2D.length===3)e.texElementImage2D(e.TEXTURE_2D,e.RGBA8,t);else{let n=e.RGBA,r=e.RGBA,i=e.UNSIGNED_BYTE;e.texElementImage2D(e.TEXTURE_2D,0,n,r,i,t)}e.texParameteri(e.TEXTURE_2D,e.TEXTURE_MIN_FILTER,e.LINEAR),e.texParameteri(e.TEXTURE_2D,e.TEXTURE_WRAP_S,e.CLAMP_TO_EDGE),e.texParameteri(e.TEXTURE_2D,e.TEXTURE_WRAP_T,e.CLAMP_TO_EDGE)}}else if(g.length>0){if(_&&x){let t=Ce(g[0]);n.texStorage2D(e.TEXTURE_2D,E,m,t.width,t.height)}for(let t=0,i=g.length;t<i;t++)h=g[t],_?T&&n.texSubImage2D(e.TEXTURE_2D,t,0,0,r,p,h):n.texImage2D(e.TEXTURE_2D,t,m,r,p,h);o.generateMipmaps=!1}else if(_){if(x){let r=Ce(t);n.texStorage2D(e.TEXTURE_2D,E,m,r.width,r.height)}T&&n.texSubImage2D(e.TEXTURE_2D,0,0,0,r,p,t)}else n.texImage2D(e.TEXTURE_2D,0,m,r,p,t);y(o)&&o.mipmapsAutoUpdate===!0&&b(c),f.__version=u.version,o.onUpdate&&o.onUpdate(o)}t.__version=o.version}function me(t,o,s){if(o.image.length!==6)return;let c=ue(t,o),l=o.source;n.bindTexture(e.TEXTURE_CUBE_MAP,t.__webglTexture,e.TEXTURE0+s);let u=r.get(l);if(l.version!==u.__version||c===!0){n.activeTexture(e.TEXTURE0+s);let t=uo.getPrimaries(uo.workingColorSpace),r=o.colorSpace===``?null:uo.getPrimaries(o.colorSpace),d=o.colorSpace===``||t===r?e.NONE:e.BROWSER_DEFAULT_WEBGL;n.pixelStorei(e.UNPACK_FLIP_Y_WEBGL,o.flipY),n.pixelStorei(e.UNPACK_PREMULTIPLY_ALPHA_WEBGL,o.premultiplyAlpha),n.pixelStorei(e.UNPACK_ALIGNMENT,o.unpackAlignment),n.pixelStorei(e.UNPACK_COLORSPACE_CONVERSION_WEBGL,d);let f=o.isCompressedTexture||o.image[0].isCompressedTexture,p=o.image[0]&&o.image[0].isDataTexture,m=[];for(let e=0;e<6;e++)!f&&!p?m[e]=v(o.image[e],!0,i.maxCubemapSize):m[e]=p?o.image[e].image:o.image[e],m[e]=Se(o,m[e]);let h=m[0],g=a.convert(o.format,o.colorSpace),_=a.convert(o.type),x=S(o.internalFormat,g,_,o.normalized,o.colorSpace),T=o.isVideoTexture!==!0,E=u.__version===void 0||c===!0,D=l.dataReady,O=w(o,h);le(e.TEXTURE_CUBE_MAP,o);let k;if(o.isDepthTexture){if(x=C(o.format===pi,o.type),E){if(T)n.texStorage2D(e.TEXTURE_CUBE_MAP,1,x,h.width,h.height);else for(let t=0;t<6;t++)n.texImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,0,x,h.width,h.height,0,g,_,null)}}else if(f){T&&E&&n.texStorage2D(e.TEXTURE_CUBE_MAP,O,x,h.width,h.height);for(let t=0;t<6;t++){k=m[t].mipmaps;for(let r=0;r<k.length;r++){let i=k[r];o.format===1023?T?D&&n.texSubImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r,0,0,i.width,i.height,g,_,i.data):n.texImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r,x,i.width,i.height,0,g,_,i.data):g===null?X(`WebGLRenderer: Attempt to load unsupported compressed texture format in .setTextureCube()`):T?D&&n.compressedTexSubImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r,0,0,i.width,i.height,g,i.data):n.compressedTexImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r,x,i.width,i.height,0,i.data)}}}else{if(k=o.mipmaps,T&&E){k.length>0&&O++;let t=Ce(m[0]);n.texStorage2D(e.TEXTURE_CUBE_MAP,O,x,t.width,t.height)}for(let t=0;t<6;t++)if(p){T?D&&n.texSubImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,0,0,0,m[t].width,m[t].height,g,_,m[t].data):n.texImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,0,x,m[t].width,m[t].height,0,g,_,m[t].data);for(let r=0;r<k.length;r++){let i=k[r].image[t].image;T?D&&n.texSubImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r+1,0,0,i.width,i.height,g,_,i.data):n.texImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r+1,x,i.width,i.height,0,g,_,i.data)}}else{T?D&&n.texSubImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,0,0,0,g,_,m[t]):n.texImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,0,x,g,_,m[t]);for(let r=0;r<k.length;r++){let i=k[r];T?D&&n.texSubImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r+1,0,0,g,_,i.image[t]):n.texImage2D(e.TEXTURE_CUBE_MAP_POSITIVE_X+t,r+1,x,g,_,i.image[t])}}}y(o)&&o.mipmapsAutoUpdate===!0&&b(e.TEXTURE_CUBE_MAP),u.__version=l.version,o.onUpdate&&o.onUpdate(o)}t.__version=o.version}function he(t,i,o,c,l,u){let d=a.convert(o.format,o.colorSpace),f=a.convert(o.type),p=S(o.internalFormat,d,f,o.normalized,o.colorSpace),m=r.get(i),h=r.get(o);if(h.__renderTarget=i,!m.__hasExternalTextures){let t=Math.max(1,i.width>>u),r=Math.max(1,i.height>>u);l===e.TEXTURE_3D||l===e.TEXTURE_2D_ARRAY?n.texImage3D(l,u,p,t,r,i.depth,0,d,f,null):n.texImage2D(l,u,p,t,r,0,d,f,null)}n.bindFramebuffer(e.FRAMEBUFFER,t),xe(i)?s.framebufferTexture2DMultisampleEXT(e.FRAMEBUFFER,c,l,h.__webglTexture,0,H(i)):(l===e.TEXTURE_2D||l>=e.TEXTURE_CUBE_MAP_POSITIVE_X&&l<=e.TEXTURE_CUBE_MAP_NEGATIVE_Z)&&e.framebufferTexture2D(e.FRAMEBUFFER,c,l,h.__webglTexture,u),n.bindFramebuffer(e.FRAMEBUFFER,null)}function ge(t,n,r){if(e.bindRenderbuffer(e.RENDERBUFFER,t),n.depthBuffer){let i=n.depthTexture,a=i&&i.isDepthTexture?i.type:null,o=C(n.stencilBuffer,a),c=n.stencilBuffer?e.DEPTH_STENCIL_ATTACHMENT:e.DEPTH_ATTACHMENT;xe(n)?s.renderbufferStorageMultisampleEXT(e.RENDERBUFFER,H(n),o,n.width,n.height):r?e.renderbufferStorageMultisample(e.RENDERBUFFER,H(n),o,n.width,n.height):e.renderbufferStorage(e.RENDERBUFFER,o,n.width,n.height),e.framebufferRenderbuffer(e.FRAMEBUFFER,c,e.RENDERBUFFER,t)}else{let t=n.textures;for(let i=0;i<t.length;i++){let o=t[i],c=a.convert(o.format,o.colorSpace),l=a.convert(o.type),u=S(o.internalFormat,c,l,o.normalized,o.colorSpace);xe(n)?s.renderbufferStorageMultisampleEXT(e.RENDERBUFFER,H(n),u,n.width,n.height):r?e.renderbufferStorageMultisample(e.RENDERBUFFER,H(n),u,n.width,n.height):e.renderbufferStorage(e.RENDERBUFFER,u,n.width,n.height)}}e.bindRenderbuffer(e.RENDERBUFFER,null)}function _e(t,i,a){let o=i.isWebGLCubeRenderTarget===!0;if(n.bindFramebuffer(e.FRAMEBUFFER,t),!(i.depthTexture&&i.depthTexture.isDepthTexture))throw Error(`THREE.WebGLTextures: renderTarget.depthTexture must be an instance of THREE.DepthTexture.`);let c=r.get(i.depthTexture);c.__renderTarget=i;let l=o?i.depthTexture.image[0]:i.depthTexture.image;c.__webglTexture&&l.width===i.width&&l.height===i.height||(l.width=i.width,l.height=i.height,i.depthTexture.needsUpdate=!0),o?oe(i.depthTexture,0):I(i.depthTexture,0);let u=c.__webglTexture,d=H(i),f=o?e.TEXTURE_CUBE_MAP_POSITIVE_X+a:e.TEXTURE_2D,p=i.depthTexture.format===1027?e.DEPTH_STENCIL_ATTACHMENT:e.DEPTH_ATTACHMENT;if(i.depthTexture.format===1026)xe(i)?s.framebufferTexture2DMultisampleEXT(e.FRAMEBUFFER,p,f,u,0,d):e.framebufferTexture2D(e.FRAMEBUFFER,p,f,u,0);else if(i.depthTexture.format===1027)xe(i)?s.framebufferTexture2DMultisampleEXT(e.FRAMEBUFFER,p,f,u,0,d):e.framebufferTexture2D(e.FRAMEBUFFER,p,f,u,0);else throw Error(`THREE.WebGLTextures: Unknown depthTexture format.`)}function ve(t){let i=r.get(t),a=t.isWebGLCubeRenderTarget===!0;if(i.__boundDepthTexture!==t.depthTexture){let e=t.depthTexture;if(i.__depthDisposeCallback&&i.__depthDisposeCallback(),e){let t=()=>{delete i.__boundDepthTexture,delete i.__depthDisposeCallback,e.removeEventListener(`dispose`,t)};e.addEventListener(`dispose`,t),i.__depthDisposeCallback=t}i.__boundDepthTexture=e}if(t.depthTexture&&!i.__autoAllocateDepthBuffer){if(a)for(let e=0;e<6;e++)_e(i.__webglFramebuffer[e],t,e);else t.texture.mipmaps.length>0?_e(i.__webglFramebuffer[0],t,0):_e(i.__webglFramebuffer,t,0)}else if(a){i.__webglDepthbuffer=[];for(let r=0;r<6;r++)if(n.bindFramebuffer(e.FRAMEBUFFER,i.__webglFramebuffer[r]),i.__webglDepthbuffer[r]===void 0)i.__webglDepthbuffer[r]=e.createRenderbuffer(),ge(i.__webglDepthbuffer[r],t,!1);else{let n=t.stencilBuffer?e.DEPTH_STENCIL_ATTACHMENT:e.DEPTH_ATTACHMENT,a=i.__webglDepthbuffer[r];e.bindRenderbuffer(e.RENDERBUFFER,a),e.framebufferRenderbuffer(e.FRAMEBUFFER,n,e.RENDERBUFFER,a)}}else if(t.texture.mipmaps.length>0?n.bindFramebuffer(e.FRAMEBUFFER,i.__webglFramebuffer[0]):n.bindFramebuffer(e.FRAMEBUFFER,i.__webglFramebuffer),i.__webglDepthbuffer===void 0)i.__webglDepthbuffer=e.createRenderbuffer(),ge(i.__webglDepthbuffer,t,!1);else{let n=t.stencilBuffer?e.DEPTH_STENCIL_ATTACHMENT:e.DEPTH_ATTACHMENT,r=i.__webglDepthbuffer;e.bindRenderbuffer(e.RENDERBUFFER,r),e.framebufferRenderbuffer(e.FRAMEBUFFER,n,e.RENDERBUFFER,r)}n.bindFramebuffer(e.FRAMEBUFFER,null)}function ye(t,n,i){let a=r.get(t);n!==void 0&&he(a.__webglFramebuffer,t,t.texture,e.COLOR_ATTACHMENT0,e.TEXTURE_2D,0),i!==void 0&&ve(t)}function z(t){let i=t.texture,s=r.get(t),c=r.get(i);t.addEventListener(`dispose`,O),T(t);let l=t.textures,u=t.isWebGLCubeRenderTarget===!0,d=l.length>1;if(d||(c.__webglTexture===void 0&&(c.__webglTexture=e.createTexture()),c.__version=i.version,o.memory.textures++),u){s.__webglFramebuffer=[];for(let t=0;t<6;t++)if(i.mipmaps.length>0){s.__webglFramebuffer[t]=[];for(let n=0;n<i.mipmaps.length;n++)s.__webglFramebuffer[t][n]=e.createFramebuffer()}else s.__webglFramebuffer[t]=e.createFramebuffer()}else{if(i.mipmaps.length>0){s.__webglFramebuffer=[];for(let t=0;t<i.mipmaps.length;t++)s.__webglFramebuffer[t]=e.createFramebuffer()}else s.__webglFramebuffer=e.createFramebuffer();if(d)for(let t=0,n=l.length;t<n;t++){let n=r.get(l[t]);n.__webglTexture===void 0&&(n.__webglTexture=e.createTexture(),o.memory.textures++)}if(t.samples>0&&xe(t)===!1){s.__webglMultisampledFramebuffer=e.createFramebuffer(),s.__webglColorRenderbuffer=[],n.bindFramebuffer(e.FRAMEBUFFER,s.__webglMultisampledFramebuffer);for(let n=0;n<l.length;n++){let r=l[n];s.__webglColorRenderbuffer[n]=e.createRenderbuffer(),e.bindRenderbuffer(e.RENDERBUFFER,s.__webglColorRenderbuffer[n]);let i=a.convert(r.format,r.colorSpace),o=a.convert(r.type),c=S(r.internalFormat,i,o,r.normalized,r.colorSpace,t.isXRRenderTarget===!0),u=H(t);e.renderbufferStorageMultisample(e.RENDERBUFFER,u,c,t.width,t.height),e.framebufferRenderbuffer(e.FRAMEBUFFER,e.COLOR_ATTACHMENT0+n,e.RENDERBUFFER,s.__webglColorRenderbuffer[n])}e.bindRenderbuffer(e.RENDERBUFFER,null),t.depthBuffer&&(s.__webglDepthRenderbuffer=e.createRenderbuffer(),ge(s.__webglDepthRenderbuffer,t,!0)),n.bindFramebuffer(e.FRAMEBUFFER,null)}}if(u){n.bindTexture(e.TEXTURE_CUBE_MAP,c.__webglTexture),le(e.TEXTURE_CUBE_MAP,i);for(let n=0;n<6;n++)if(i.mipmaps.length>0)for(let r=0;r<i.mipmaps.length;r++)he(s.__webglFramebuffer[n][r],t,i,e.COLOR_ATTACHMENT0,e.TEXTURE_CUBE_MAP_POSITIVE_X+n,r);else he(s.__webglFramebuffer[n],t,i,e.COLOR_ATTACHMENT0,e.TEXTURE_CUBE_MAP_POSITIVE_X+n,0);y(i)?b(e.TEXTURE_CUBE_MAP):i.mipmaps.length>0&&e.texParameteri(e.TEXTURE_CUBE_MAP,e.TEXTURE_MAX_LEVEL,i.mipmaps.length-1),n.unbindTexture()}else if(d){for(let i=0,a=l.length;i<a;i++){let a=l[i],o=r.get(a),c=e.TEXTURE_2D;(t.isWebGL3DRenderTarget||t.isWebGLArrayRenderTarget)&&(c=t.isWebGL3DRenderTarget?e.TEXTURE_3D:e.TEXTURE_2D_ARRAY),n.bindTexture(c,o.__webglTexture),le(c,a),he(s.__webglFramebuffer,t,a,e.COLOR_ATTACHMENT0+i,c,0),y(a)&&b(c)}n.unbindTexture()}else{let r=e.TEXTURE_2D;if((t.isWebGL3DRenderTarget||t.isWebGLArrayRenderTarget)&&(r=t.isWebGL3DRenderTarget?e.TEXTURE_3D:e.TEXTURE_2D_ARRAY),n.bindTexture(r,c.__webglTexture),le(r,i),i.mipmaps.length>0)for(let n=0;n<i.mipmaps.length;n++)he(s.__webglFramebuffer[n],t,i,e.COLOR_ATTACHMENT0,r,n);else he(s.__webglFramebuffer,t,i,e.COLOR_ATTACHMENT0,r,0);y(i)?b(r):i.mipmaps.length>0&&e.texParameteri(r,e.TEXTURE_MAX_LEVEL,i.mipmaps.length-1),n.unbindTexture()}t.depthBuffer&&ve(t)}function B(e){let t=e.textures;for(let i=0,a=t.length;i<a;i++){let a=t[i];if(y(a)&&a.mipmapsAutoUpdate===!0){let t=x(e),i=r.get(a).__webglTexture;n.bindTexture(t,i),b(t),n.unbindTexture()}}}let V=[];function be(t){if(t.samples>0){if(xe(t)===!1){let i=t.textures,a=t.width,o=t.height,s=e.COLOR_BUFFER_BIT,l=t.stencilBuffer?e.DEPTH_STENCIL_ATTACHMENT:e.DEPTH_ATTACHMENT,u=r.get(t),d=i.length>1;if(d)for(let t=0;t<i.length;t++)n.bindFramebuffer(e.FRAMEBUFFER,u.__webglMultisampledFramebuffer),e.framebufferRenderbuffer(e.FRAMEBUFFER,e.COLOR_ATTACHMENT0+t,e.RENDERBUFFER,null),n.bindFramebuffer(e.FRAMEBUFFER,u.__webglFramebuffer),e.framebufferTexture2D(e.DRAW_FRAMEBUFFER,e.COLOR_ATTACHMENT0+t,e.TEXTURE_2D,null,0);n.bindFramebuffer(e.READ_FRAMEBUFFER,u.__webglMultisampledFramebuffer),t.texture.mipmaps.length>0?n.bindFramebuffer(e.DRAW_FRAMEBUFFER,u.__webglFramebuffer[0]):n.bindFramebuffer(e.DRAW_FRAMEBUFFER,u.__webglFramebuffer);for(let n=0;n<i.length;n++){if(t.resolveDepthBuffer&&(t.depthBuffer&&(s|=e.DEPTH_BUFFER_BIT),t.stencilBuffer&&t.resolveStencilBuffer&&(s|=e.STENCIL_BUFFER_BIT)),d){e.framebufferRenderbuffer(e.READ_FRAMEBUFFER,e.COLOR_ATTACHMENT0,e.RENDERBUFFER,u.__webglColorRenderbuffer[n]);let t=r.get(i[n]).__webglTexture;e.framebufferTexture2D(e.DRAW_FRAMEBUFFER,e.COLOR_ATTACHMENT0,e.TEXTURE_2D,t,0)}e.blitFramebuffer(0,0,a,o,0,0,a,o,s,e.NEAREST),c===!0&&(V.length=0,V.push(e.COLOR_ATTACHMENT0+n),t.depthBuffer&&t.storeMultisampledDepthBuffer===!1&&V.push(l),e.invalidateFramebuffer(e.READ_FRAMEBUFFER,V))}if(n.bindFramebuffer(e.READ_FRAMEBUFFER,null),n.bindFramebuffer(e.DRAW_FRAMEBUFFER,null),d)for(let t=0;t<i.length;t++){n.bindFramebuffer(e.FRAMEBUFFER,u.__webglMultisampledFramebuffer),e.framebufferRenderbuffer(e.FRAMEBUFFER,e.COLOR_ATTACHMENT0+t,e.RENDERBUFFER,u.__webglColorRenderbuffer[t]);let a=r.get(i[t]).__webglTexture;n.bindFramebuffer(e.FRAMEBUFFER,u.__webglFramebuffer),e.framebufferTexture2D(e.DRAW_FRAMEBUFFER,e.COLOR_ATTACHMENT0+t,e.TEXTURE_2D,a,0)}n.bindFramebuffer(e.DRAW_FRAMEBUFFER,u.__webglMultisampledFramebuffer)}else if(t.depthBuffer&&t.storeMultisampledDepthBuffer===!1&&c){let n=t.stencilBuffer?e.DEPTH_STENCIL_ATTACHMENT:e.DEPTH_ATTACHMENT;e.invalidateFramebuffer(e.DRAW_FRAMEBUFFER,[n])}}}function H(e){return Math.min(i.maxSamples,e.samples)}function xe(e){let n=r.get(e);return e.samples>0&&t.has(`WEBGL_multisampled_render_to_texture`)===!0&&n.__useRenderToTexture!==!1}function U(e){let t=o.render.frame;u.get(e)!==t&&(u.set(e,t),e.update())}function Se(e,t){let n=e.colorSpace,r=e.format,i=e.type;return e.isCompressedTexture===!0||e.isVideoTexture===!0||n!==`srgb-linear`&&n!==``&&(uo.getTransfer(n)===`srgb`?(r!==1023||i!==1009)&&X(`WebGLTextures: sRGB encoded textures have to use RGBAFormat and UnsignedByteType.`):Ca(`WebGLTextures: Unsupported texture color space:`,n)),t}function Ce(e){return typeof HTMLImageElement<`u`&&e instanceof HTMLImageElement?(l.width=e.naturalWidth||e.width,l.height=e.naturalHeight||e.height):typeof VideoFrame<`u`&&e instanceof VideoFrame?(l.width=e.displayWidth,l.height=e.displayHeight):(l.width=e.width,l.height=e.height),l}this.allocateTextureUnit=F,this.resetTextureUnits=ne,this.getTextureUnits=re,this.setTextureUnits=P,this.setTexture2D=I,this.setTexture2DArray=ae,this.setTexture3D=L,this.setTextureCube=oe,this.rebindTextures=ye,this.setupRenderTarget=z,this.updateRenderTargetMipmap=B,this.updateMultisampleRenderTarget=be,this.setupDepthRenderbuffer=ve,this.setupFrameBufferTexture=he,this.useMultisampledRTT=xe,this.dispose=j}function qm(e,t){function n(n,r=``){let i,a=uo.getTransfer(r);if(n===1009)return e.UNSIGNED_BYTE;if(n===1017)return e.UNSIGNED_SHORT_4_4_4_4;if(n===1018)return e.UNSIGNED_SHORT_5_5_5_1;if(n===35902)return e.UNSIGNED_INT_5_9_9_9_REV;if(n===35899)return e.UNSIGNED_INT_10F_11F_11F_REV;if(n===1010)return e.BYTE;if(n===1011)return e.SHORT;if(n===1012)return e.UNSIGNED_SHORT;if(n===1013)return e.INT;if(n===1014)return e.UNSIGNED_INT;if(n===1015)return e.FLOAT;if(n===1016)return e.HALF_FLOAT;if(n===1021)return e.ALPHA;if(n===1022)return e.RGB;if(n===1023)return e.RGBA;if(n===1026)return e.DEPTH_COMPONENT;if(n===1027)return e.DEPTH_STENCIL;if(n===1028)return e.RED;if(n===1029)return e.RED_INTEGER;if(n===1030)return e.RG;if(n===1031)return e.RG_INTEGER;if(n===1033)return e.RGBA_INTEGER;if(n===33776||n===33777||n===33778||n===33779){if(a===`srgb`){if(i=t.get(`WEBGL_compressed_texture_s3tc_srgb`),i!==null){if(n===33776)return i.COMPRESSED_SRGB_S3TC_DXT1_EXT;if(n===33777)return i.COMPRESSED_SRGB_ALPHA_S3TC_DXT1_EXT;if(n===33778)return i.COMPRESSED_SRGB_ALPHA_S3TC_DXT3_EXT;if(n===33779)return i.COMPRESSED_SRGB_ALPHA_S3TC_DXT5_EXT}else return null}else if(i=t.get(`WEBGL_compressed_texture_s3tc`),i!==null){if(n===33776)return i.COMPRESSED_RGB_S3TC_DXT1_EXT;if(n===33777)return i.COMPRESSED_RGBA_S3TC_DXT1_EXT;if(n===33778)return i.COMPRESSED_RGBA_S3TC_DXT3_EXT;if(n===33779)return i.COMPRESSED_RGBA_S3TC_DXT5_EXT}else return null}if(n===35840||n===35841||n===35842||n===35843){if(i=t.get(`WEBGL_compressed_texture_pvrtc`),i!==null){if(n===35840)return i.COMPRESSED_RGB_PVRTC_4BPPV1_IMG;if(n===35841)return i.COMPRESSED_RGB_PVRTC_2BPPV1_IMG;if(n===35842)return i.COMPRESSED_RGBA_PVRTC_4BPPV1_IMG;if(n===35843)return i.COMPRESSED_RGBA_PVRTC_2BPPV1_IMG}else return null}if(n===36196||n===37492||n===37496||n===37488||n===37489||n===37490||n===37491){if(i=t.get(`WEBGL_compressed_texture_etc`),i!==null){if(n===36196||n===37492)return a===`srgb`?i.COMPRESSED_SRGB8_ETC2:i.COMPRESSED_RGB8_ETC2;if(n===37496)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ETC2_EAC:i.COMPRESSED_RGBA8_ETC2_EAC;if(n===37488)return i.COMPRESSED_R11_EAC;if(n===37489)return i.COMPRESSED_SIGNED_R11_EAC;if(n===37490)return i.COMPRESSED_RG11_EAC;if(n===37491)return i.COMPRESSED_SIGNED_RG11_EAC}else return null}if(n===37808||n===37809||n===37810||n===37811||n===37812||n===37813||n===37814||n===37815||n===37816||n===37817||n===37818||n===37819||n===37820||n===37821){if(i=t.get(`WEBGL_compressed_texture_astc`),i!==null){if(n===37808)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_4x4_KHR:i.COMPRESSED_RGBA_ASTC_4x4_KHR;if(n===37809)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_5x4_KHR:i.COMPRESSED_RGBA_ASTC_5x4_KHR;if(n===37810)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_5x5_KHR:i.COMPRESSED_RGBA_ASTC_5x5_KHR;if(n===37811)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_6x5_KHR:i.COMPRESSED_RGBA_ASTC_6x5_KHR;if(n===37812)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_6x6_KHR:i.COMPRESSED_RGBA_ASTC_6x6_KHR;if(n===37813)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_8x5_KHR:i.COMPRESSED_RGBA_ASTC_8x5_KHR;if(n===37814)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_8x6_KHR:i.COMPRESSED_RGBA_ASTC_8x6_KHR;if(n===37815)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_8x8_KHR:i.COMPRESSED_RGBA_ASTC_8x8_KHR;if(n===37816)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_10x5_KHR:i.COMPRESSED_RGBA_ASTC_10x5_KHR;if(n===37817)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_10x6_KHR:i.COMPRESSED_RGBA_ASTC_10x6_KHR;if(n===37818)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_10x8_KHR:i.COMPRESSED_RGBA_ASTC_10x8_KHR;if(n===37819)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_10x10_KHR:i.COMPRESSED_RGBA_ASTC_10x10_KHR;if(n===37820)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_12x10_KHR:i.COMPRESSED_RGBA_ASTC_12x10_KHR;if(n===37821)return a===`srgb`?i.COMPRESSED_SRGB8_ALPHA8_ASTC_12x12_KHR:i.COMPRESSED_RGBA_ASTC_12x12_KHR}else return null}if(n===36492||n===36494||n===36495){if(i=t.get(`EXT_texture_compression_bptc`),i!==null){if(n===36492)return a===`srgb`?i.COMPRESSED_SRGB_ALPHA_BPTC_UNORM_EXT:i.COMPRESSED_RGBA_BPTC_UNORM_EXT;if(n===36494)return i.COMPRESSED_RGB_BPTC_SIGNED_FLOAT_EXT;if(n===36495)return i.COMPRESSED_RGB_BPTC_UNSIGNED_FLOAT_EXT}else return null}if(n===36283||n===36284||n===36285||n===36286){if(i=t.get(`EXT_texture_compression_rgtc`),i!==null){if(n===36283)return i.COMPRESSED_RED_RGTC1_EXT;if(n===36284)return i.COMPRESSED_SIGNED_RED_RGTC1_EXT;if(n===36285)return i.COMPRESSED_RED_GREEN_RGTC2_EXT;if(n===36286)return i.COMPRESSED_SIGNED_RED_GREEN_RGTC2_EXT}else return null}return n===1020?e.UNSIGNED_INT_24_8:e[n]===void 0?null:e[n]}return{convert:n}}var Jm=`
void main() {

	gl_Position = vec4( position, 1.0 );

}`,Ym=`
uniform sampler2DArray depthColor;
uniform float depthWidth;
uniform float depthHeight;

void main() {

	vec2 coord = vec2( gl_FragCoord.x / depthWidth, gl_FragCoord.y / depthHeight );

	if ( coord.x >= 1.0 ) {

		gl_FragDepth = texture( depthColor, vec3( coord.x - 1.0, coord.y, 1 ) ).r;

	} else {

		gl_FragDepth = texture( depthColor, vec3( coord.x, coord.y, 0 ) ).r;

	}

}`,Xm=class{constructor(){this.texture=null,this.mesh=null,this.depthNear=0,this.depthFar=0}init(e,t){if(this.texture===null){let n=new fl(e.texture);(e.depthNear!==t.depthNear||e.depthFar!==t.depthFar)&&(this.depthNear=e.depthNear,this.depthFar=e.depthFar),this.texture=n}}getMesh(e){if(this.texture!==null&&this.mesh===null){let t=e.cameras[0].viewport,n=new Gu({vertexShader:Jm,fragmentShader:Ym,uniforms:{depthColor:{value:this.texture},depthWidth:{value:t.z},depthHeight:{value:t.w}}});this.mesh=new Nc(new Iu(20,20),n)}return this.mesh}reset(){this.texture=null,this.mesh=null}getDepthTexture(){return this.texture}},Zm=class extends Da{constructor(e,t){super();let n=this,r=null,i=1,a=null,o=`local-floor`,s=1,c=null,l=null,u=null,d=null,f=null,p=null,m=typeof XRWebGLBinding<`u`,h=new Xm,g={},_=t.getContextAttributes(),v=null,y=null,b=[],x=[],S=new Z,C=null,w=null,T=new Sd;T.viewport=new So;let E=new Sd;E.viewport=new So;let D=[T,E],O=new Dd,k=null,A=null;this.cameraAutoUpdate=!0,this.enabled=!1,this.isPresenting=!1,this.getController=function(e){let t=b[e];return t===void 0&&(t=new rs,b[e]=t),t.getTargetRaySpace()},this.getControllerGrip=function(e){let t=b[e];return t===void 0&&(t=new rs,b[e]=t),t.getGripSpace()},this.getHand=function(e){let t=b[e];return t===void 0&&(t=new rs,b[e]=t),t.getHandSpace()};function j(e){let t=x.indexOf(e.inputSource);if(t===-1)return;let n=b[t];n!==void 0&&(n.update(e.inputSource,e.frame,c||a),n.dispatchEvent({type:e.type,data:e.inputSource}))}function M(){r.removeEventListener(`select`,j),r.removeEventListener(`selectstart`,j),r.removeEventListener(`selectend`,j),r.removeEventListener(`squeeze`,j),r.removeEventListener(`squeezestart`,j),r.removeEventListener(`squeezeend`,j),r.removeEventListener(`end`,M),r.removeEventListener(`inputsourceschange`,N);for(let e=0;e<b.length;e++){let t=x[e];t!==null&&(x[e]=null,b[e].disconnect(t))}k=null,A=null,h.reset();for(let e in g)delete g[e];if(e.setRenderTarget(v),f=null,d=null,u=null,r=null,y=null,P.stop(),n.isPresenting=!1,e.setPixelRatio(C),e.setSize(S.width,S.height,!1),w!==null){let e=w.camera;e.fov=w.fov,e.zoom=w.zoom,e.updateProjectionMatrix(),w=null}n.dispatchEvent({type:`sessionend`})}this.setFramebufferScaleFactor=function(e){i=e,n.isPresenting===!0&&X(`WebXRManager: Cannot change framebuffer scale while presenting.`)},this.setReferenceSpaceType=function(e){o=e,n.isPresenting===!0&&X(`WebXRManager: Cannot change reference space type while presenting.`)},this.getReferenceSpace=function(){return c||a},this.setReferenceSpace=function(e){c=e},this.getBaseLayer=function(){return d===null?f:d},this.getBinding=function(){return u===null&&m&&(u=new XRWebGLBinding(r,t)),u},this.getFrame=function(){return p},this.getSession=function(){return r},this.setSession=async function(l){if(r=l,r!==null){if(v=e.getRenderTarget(),r.addEventListener(`select`,j),r.addEventListener(`selectstart`,j),r.addEventListener(`selectend`,j),r.addEventListener(`squeeze`,j),r.addEventListener(`squeezestart`,j),r.addEventListener(`squeezeend`,j),r.addEventListener(`end`,M),r.addEventListener(`inputsourceschange`,N),_.xrCompatible!==!0&&await t.makeXRCompatible(),C=e.getPixelRatio(),e.getSize(S),m&&`createProjectionLayer`in XRWebGLBinding.prototype){let n=null,a=null,o=null;_.depth&&(o=_.stencil?t.DEPTH24_STENCIL8:t.DEPTH_COMPONENT24,n=_.stencil?pi:fi,a=_.stencil?oi:ti);let s={colorFormat:t.RGBA8,depthFormat:o,scaleFactor:i};u=this.getBinding(),d=u.createProjectionLayer(s),r.updateRenderState({layers:[d]}),e.setPixelRatio(1),e.setSize(d.textureWidth,d.textureHeight,!1),y=new wo(d.textureWidth,d.textureHeight,{format:di,type:Xr,depthTexture:new ul(d.textureWidth,d.textureHeight,a,void 0,void 0,void 0,void 0,void 0,void 0,n),stencilBuffer:_.stencil,colorSpace:e.outputColorSpace,samples:_.antialias?4:0,resolveDepthBuffer:d.ignoreDepthValues===!1,resolveStencilBuffer:d.ignoreDepthValues===!1,storeMultisampledDepthBuffer:d.ignoreDepthValues===!1,storeMultisampledStencilBuffer:d.ignoreDepthValues===!1})}else{let n={antialias:_.antialias,alpha:!0,depth:_.depth,stencil:_.stencil,framebufferScaleFactor:i};f=new XRWebGLLayer(r,t,n),r.updateRenderState({baseLayer:f}),e.setPixelRatio(1),e.setSize(f.framebufferWidth,f.framebufferHeight,!1),y=new wo(f.framebufferWidth,f.framebufferHeight,{format:di,type:Xr,colorSpace:e.outputColorSpace,stencilBuffer:_.stencil,resolveDepthBuffer:f.ignoreDepthValues===!1,resolveStencilBuffer:f.ignoreDepthValues===!1,storeMultisampledDepthBuffer:f.ignoreDepthValues===!1,storeMultisampledStencilBuffer:f.ignoreDepthValues===!1})}y.isXRRenderTarget=!0,this.setFoveation(s),c=null,a=await r.requestReferenceSpace(o),P.setContext(r),P.start(),n.isPresenting=!0,n.dispatchEvent({type:`sessionstart`})}},this.getEnvironmentBlendMode=function(){if(r!==null)return r.environmentBlendMode},this.getDepthTexture=function(){return h.getDepthTexture()};function N(e){for(let t=0;t<e.removed.length;t++){let n=e.removed[t],r=x.indexOf(n);r>=0&&(x[r]=null,b[r].disconnect(n))}for(let t=0;t<e.added.length;t++){let n=e.added[t],r=x.indexOf(n);if(r===-1){for(let e=0;e<b.length;e++)if(e>=x.length){x.push(n),r=e;break}else if(x[e]===null){x[e]=n,r=e;break}if(r===-1)break}let i=b[r];i&&i.connect(n)}}function ee(e,t){t===null?e.matrixWorld.copy(e.matrix):e.matrixWorld.multiplyMatrices(t.matrixWorld,e.matrix),e.matrixWorldInverse.copy(e.matrixWorld).invert()}this.updateCamera=function(e){if(r===null)return;let t=e.near,n=e.far;h.texture!==null&&(h.depthNear>0&&(t=h.depthNear),h.depthFar>0&&(n=h.depthFar)),O.near=E.near=T.near=t,O.far=E.far=T.far=n,(k!==O.near||A!==O.far)&&(r.updateRenderState({depthNear:O.near,depthFar:O.far}),k=O.near,A=O.far),O.layers.mask=e.layers.mask|6,T.layers.mask=O.layers.mask&-5,E.layers.mask=O.layers.mask&-3;let i=e.parent,a=O.cameras;ee(O,i);for(let e=0;e<a.length;e++)ee(a[e],i);O.projectionMatrix.copy(T.projectionMatrix),O.projectionMatrixInverse.copy(T.projectionMatrixInverse),w===null&&e.isPerspectiveCamera&&(w={camera:e,fov:e.fov,zoom:e.zoom}),te(e,O,i)};function te(e,t,n){n===null?e.matrix.copy(t.matrixWorld):(e.matrix.copy(n.matrixWorld),e.matrix.invert(),e.matrix.multiply(t.matrixWorld)),e.matrix.decompose(e.position,e.quaternion,e.scale),e.updateMatrixWorld(!0),e.projectionMatrix.copy(t.projectionMatrix),e.projectionMatrixInverse.copy(t.projectionMatrixInverse),e.isPerspectiveCamera&&(e.fov=ja*2*Math.atan(1/e.projectionMatrix.elements[5]),e.zoom=1)}this.getCamera=function(){return O},this.getFoveation=function(){if(d!==null||f!==null)return s},this.setFoveation=function(e){s=e,d!==null&&(d.fixedFoveation=e),f!==null&&f.fixedFoveation!==void 0&&(f.fixedFoveation=e)},this.hasDepthSensing=function(){return h.texture!==null},this.getDepthSensingMesh=function(){return h.getMesh(O)},this.getCameraTexture=function(e){return g[e]};let ne=null;function re(t,i){if(l=i.getViewerPose(c||a),p=i,l!==null){let t=l.views;f!==null&&(e.setRenderTargetFramebuffer(y,f.framebuffer),e.setRenderTarget(y));let i=!1;t.length!==O.cameras.length&&(O.cameras.length=0,i=!0);for(let n=0;n<t.length;n++){let r=t[n],a=null;if(f!==null)a=f.getViewport(r);else{let t=u.getViewSubImage(d,r);a=t.viewport,n===0&&(e.setRenderTargetTextures(y,t.colorTexture,t.depthStencilTexture),e.setRenderTarget(y))}let o=D[n];o===void 0&&(o=new Sd,o.layers.enable(n),o.viewport=new So,D[n]=o),o.matrix.fromArray(r.transform.matrix),o.matrix.decompose(o.position,o.quaternion,o.scale),o.projectionMatrix.fromArray(r.projectionMatrix),o.projectionMatrixInverse.copy(o.projectionMatrix).invert(),o.viewport.set(a.x,a.y,a.width,a.height),n===0&&(O.matrix.copy(o.matrix),O.matrix.decompose(O.position,O.quaternion,O.scale)),i===!0&&O.cameras.push(o)}let a=r.enabledFeatures;if(a&&a.includes(`depth-sensing`)&&r.depthUsage==`gpu-optimized`&&m){u=n.getBinding();let e=u.getDepthInformation(t[0]);e&&e.isValid&&e.texture&&h.init(e,r.renderState)}if(a&&a.includes(`camera-access`)&&m){e.state.unbindTexture(),u=n.getBinding();for(let e=0;e<t.length;e++){let n=t[e].camera;if(n){let e=g[n];e||(e=new fl,g[n]=e);let t=u.getCameraImage(n);e.sourceTexture=t}}}}for(let e=0;e<b.length;e++){let t=x[e],n=b[e];t!==null&&n!==void 0&&n.update(t,i,c||a)}ne&&ne(t,i),i.detectedPlanes&&n.dispatchEvent({type:`planesdetected`,data:i}),p=null}let P=new Jd;P.setAnimationLoop(re),this.setAnimationLoop=function(e){ne=e},this.dispose=function(){}}},Qm=new Do,$m=new ao;$m.set(-1,0,0,0,1,0,0,0,1);function eh(e,t){function n(e,t){e.matrixAutoUpdate===!0&&e.updateMatrix(),t.value.copy(e.matrix)}function r(t,n){n.color.getRGB(t.fogColor.value,Vu(e)),n.isFog?(t.fogNear.value=n.near,t.fogFar.value=n.far):n.isFogExp2&&(t.fogDensity.value=n.density)}function i(e,t,n,r,i){t.isNodeMaterial?t.uniformsNeedUpdate=!1:t.isMeshBasicMaterial?a(e,t):t.isMeshLambertMaterial?(a(e,t),t.envMap&&(e.envMapIntensity.value=t.envMapIntensity)):t.isMeshToonMaterial?(a(e,t),d(e,t)):t.isMeshPhongMaterial?(a(e,t),u(e,t),t.envMap&&(e.envMapIntensity.value=t.envMapIntensity)):t.isMeshStandardMaterial?(a(e,t),f(e,t),t.isMeshPhysicalMaterial&&p(e,t,i)):t.isMeshMatcapMaterial?(a(e,t),m(e,t)):t.isMeshDepthMaterial?a(e,t):t.isMeshDistanceMaterial?(a(e,t),h(e,t)):t.isMeshNormalMaterial?a(e,t):t.isLineBasicMaterial?(o(e,t),t.isLineDashedMaterial&&s(e,t)):t.isPointsMaterial?c(e,t,n,r):t.isSpriteMaterial?l(e,t):t.isShadowMaterial?(e.color.value.copy(t.color),e.opacity.value=t.opacity):t.isShaderMaterial&&(t.uniformsNeedUpdate=!1)}function a(e,r){e.opacity.value=r.opacity,r.color&&e.diffuse.value.copy(r.color),r.emissive&&e.emissive.value.copy(r.emissive).multiplyScalar(r.emissiveIntensity),r.map&&(e.map.value=r.map,n(r.map,e.mapTransform)),r.alphaMap&&(e.alphaMap.value=r.alphaMap,n(r.alphaMap,e.alphaMapTransform)),r.bumpMap&&(e.bumpMap.value=r.bumpMap,n(r.bumpMap,e.bumpMapTransform),e.bumpScale.value=r.bumpScale,r.side===1&&(e.bumpScale.value*=-1)),r.normalMap&&(e.normalMap.value=r.normalMap,n(r.normalMap,e.normalMapTransform),e.normalScale.value.copy(r.normalScale),r.side===1&&e.normalScale.value.negate()),r.displacementMap&&(e.displacementMap.value=r.displacementMap,n(r.displacementMap,e.displacementMapTransform),e.displacementScale.value=r.displacementScale,e.displacementBias.value=r.displacementBias),r.emissiveMap&&(e.emissiveMap.value=r.emissiveMap,n(r.emissiveMap,e.emissiveMapTransform)),r.specularMap&&(e.specularMap.value=r.specularMap,n(r.specularMap,e.specularMapTransform)),r.alphaTest>0&&(e.alphaTest.value=r.alphaTest);let i=t.get(r),a=i.envMap,o=i.envMapRotation;a&&(e.envMap.value=a,e.envMapRotation.value.setFromMatrix4(Qm.makeRotationFromEuler(o)).transpose(),a.isCubeTexture&&a.isRenderTargetTexture===!1&&e.envMapRotation.value.premultiply($m),e.reflectivity.value=r.reflectivity,e.ior.value=r.ior,e.refractionRatio.value=r.refractionRatio),r.lightMap&&(e.lightMap.value=r.lightMap,e.lightMapIntensity.value=r.lightMapIntensity,n(r.lightMap,e.lightMapTransform)),r.aoMap&&(e.aoMap.value=r.aoMap,e.aoMapIntensity.value=r.aoMapIntensity,n(r.aoMap,e.aoMapTransform))}function o(e,t){e.diffuse.value.copy(t.color),e.opacity.value=t.opacity,t.map&&(e.map.value=t.map,n(t.map,e.mapTransform))}function s(e,t){e.dashSize.value=t.dashSize,e.totalSize.value=t.dashSize+t.gapSize,e.scale.value=t.scale}function c(e,t,r,i){e.diffuse.value.copy(t.color),e.opacity.value=t.opacity,e.size.value=t.size*r,e.scale.value=i*.5,t.map&&(e.map.value=t.map,n(t.map,e.uvTransform)),t.alphaMap&&(e.alphaMap.value=t.alphaMap,n(t.alphaMap,e.alphaMapTransform)),t.alphaTest>0&&(e.alphaTest.value=t.alphaTest)}function l(e,t){e.diffuse.value.copy(t.color),e.opacity.value=t.opacity,e.rotation.value=t.rotation,t.map&&(e.map.value=t.map,n(t.map,e.mapTransform)),t.alphaMap&&(e.alphaMap.value=t.alphaMap,n(t.alphaMap,e.alphaMapTransform)),t.alphaTest>0&&(e.alphaTest.value=t.alphaTest)}function u(e,t){e.specular.value.copy(t.specular),e.shininess.value=Math.max(t.shininess,1e-4)}function d(e,t){t.gradientMap&&(e.gradientMap.value=t.gradientMap)}function f(e,t){e.metalness.value=t.metalness,t.metalnessMap&&(e.metalnessMap.value=t.metalnessMap,n(t.metalnessMap,e.metalnessMapTransform)),e.roughness.value=t.roughness,t.roughnessMap&&(e.roughnessMap.value=t.roughnessMap,n(t.roughnessMap,e.roughnessMapTransform)),t.envMap&&(e.envMapIntensity.value=t.envMapIntensity)}function p(e,t,r){e.ior.value=t.ior,t.diffuseRoughness>0&&(e.diffuseRoughness.value=t.diffuseRoughness,t.diffuseRoughnessMap&&(e.diffuseRoughnessMap.value=t.diffuseRoughnessMap,n(t.diffuseRoughnessMap,e.diffuseRoughnessMapTransform))),t.sheen>0&&(e.sheenColor.value.copy(t.sheenColor).multiplyScalar(t.sheen),e.sheenRoughness.value=t.sheenRoughness,t.sheenColorMap&&(e.sheenColorMap.value=t.sheenColorMap,n(t.sheenColorMap,e.sheenColorMapTransform)),t.sheenRoughnessMap&&(e.sheenRoughnessMap.value=t.sheenRoughnessMap,n(t.sheenRoughnessMap,e.sheenRoughnessMapTransform))),t.clearcoat>0&&(e.clearcoat.value=t.clearcoat,e.clearcoatRoughness.value=t.clearcoatRoughness,t.clearcoatMap&&(e.clearcoatMap.value=t.clearcoatMap,n(t.clearcoatMap,e.clearcoatMapTransform)),t.clearcoatRoughnessMap&&(e.clearcoatRoughnessMap.value=t.clearcoatRoughnessMap,n(t.clearcoatRoughnessMap,e.clearcoatRoughnessMapTransform)),t.clearcoatNormalMap&&(e.clearcoatNormalMap.value=t.clearcoatNormalMap,n(t.clearcoatNormalMap,e.clearcoatNormalMapTransform),e.clearcoatNormalScale.value.copy(t.clearcoatNormalScale),t.side===1&&e.clearcoatNormalScale.value.negate())),t.dispersion>0&&(e.dispersion.value=t.dispersion),t.retroreflectivity>0&&(e.retroreflectivity.value=t.retroreflectivity),t.iridescence>0&&(e.iridescence.value=t.iridescence,e.iridescenceIOR.value=t.iridescenceIOR,e.iridescenceThicknessMinimum.value=t.iridescenceThicknessMinimum,e.iridescenceThicknessMaximum.value=t.iridescenceThicknessMaximum,t.iridescenceMap&&(e.iridescenceMap.value=t.iridescenceMap,n(t.iridescenceMap,e.iridescenceMapTransform)),t.iridescenceThicknessMap&&(e.iridescenceThicknessMap.value=t.iridescenceThicknessMap,n(t.iridescenceThicknessMap,e.iridescenceThicknessMapTransform))),t.transmission>0&&(e.transmission.value=t.transmission,e.transmissionSamplerMap.value=r.texture,e.transmissionSamplerSize.value.set(r.width,r.height),t.transmissionMap&&(e.transmissionMap.value=t.transmissionMap,n(t.transmissionMap,e.transmissionMapTransform)),e.thickness.value=t.thickness,t.thicknessMap&&(e.thicknessMap.value=t.thicknessMap,n(t.thicknessMap,e.thicknessMapTransform)),e.attenuationDistance.value=t.attenuationDistance,e.attenuationColor.value.copy(t.attenuationColor)),t.anisotropy>0&&(e.anisotropyVector.value.set(t.anisotropy*Math.cos(t.anisotropyRotation),t.anisotropy*Math.sin(t.anisotropyRotation)),t.anisotropyMap&&(e.anisotropyMap.value=t.anisotropyMap,n(t.anisotropyMap,e.anisotropyMapTransform))),e.specularIntensity.value=t.specularIntensity,e.specularColor.value.copy(t.specularColor),t.specularColorMap&&(e.specularColorMap.value=t.specularColorMap,n(t.specularColorMap,e.specularColorMapTransform)),t.specularIntensityMap&&(e.specularIntensityMap.value=t.specularIntensityMap,n(t.specularIntensityMap,e.specularIntensityMapTransform))}function m(e,t){t.matcap&&(e.matcap.value=t.matcap)}function h(e,n){let r=t.get(n).light;e.referencePosition.value.setFromMatrixPosition(r.matrixWorld),e.nearDistance.value=r.shadow.camera.near,e.farDistance.value=r.shadow.camera.far}return{refreshFogUniforms:r,refreshMaterialUniforms:i}}function th(e,t,n,r){let i={},a={};function o(e,t){let n=t.program;r.uniformBlockBinding(e,n,i[e.id])}function s(e,n){let o=i[e.id];o===void 0&&(m(e),o=c(e),i[e.id]=o,e.addEventListener(`dispose`,g));let s=n.program;r.updateUBOMapping(e,s);let u=t.render.frame;a[e.id]!==u&&(l(e),a[e.id]=u)}function c(t){let n=e.createBuffer(),r=t.__size,i=t.usage;return e.bindBuffer(e.UNIFORM_BUFFER,n),e.bufferData(e.UNIFORM_BUFFER,r,i),e.bindBuffer(e.UNIFORM_BUFFER,null),n}function l(t){let n=i[t.id],r=t.uniforms,a=t.__cache;e.bindBuffer(e.UNIFORM_BUFFER,n);for(let e=0,t=r.length;e<t;e++){let t=r[e];if(Array.isArray(t))for(let n=0,r=t.length;n<r;n++)u(t[n],e,n,a);else u(t,e,0,a)}e.bindBuffer(e.UNIFORM_BUFFER,null)}function u(t,n,r,i){if(f(t,n,r,i)===!0){let n=t.__offset,r=t.value;if(Array.isArray(r)){let e=0;for(let n=0;n<r.length;n++){let i=r[n],a=h(i,!0);d(i,t.__data,e),e+=a.storage/Float32Array.BYTES_PER_ELEMENT}}else d(r,t.__data,0);e.bufferSubData(e.UNIFORM_BUFFER,n,t.__data)}}function d(e,t,n){typeof e==`number`||typeof e==`boolean`?t[n]=e:e.isMatrix3?(t[n]=e.elements[0],t[n+1]=e.elements[1],t[n+2]=e.elements[2],t[n+3]=0,t[n+4]=e.elements[3],t[n+5]=e.elements[4],t[n+6]=e.elements[5],t[n+7]=0,t[n+8]=e.elements[6],t[n+9]=e.elements[7],t[n+10]=e.elements[8],t[n+11]=0):ArrayBuffer.isView(e)?t.set(e.subarray(0,t.length-n),n):e.toArray(t,n)}function f(e,t,n,r){let i=e.value,a=t+`_`+n;if(Array.isArray(i)){r[a]===void 0&&(r[a]=[]);let e=r[a],t=!1;for(let n=0;n<i.length;n++)p(i[n],e,n)===!0&&(t=!0);return t}return p(i,r,a)}function p(e,t,n){if(t[n]===void 0)return t[n]=typeof e==`number`||typeof e==`boolean`?e:ArrayBuffer.isView(e)?e.slice():e.clone(),!0;{let r=t[n];if(typeof e==`number`||typeof e==`boolean`){if(r!==e)return t[n]=e,!0}else if(ArrayBuffer.isView(e))return!0;else if(r.equals(e)===!1)return r.copy(e),!0}return!1}function m(e){let t=e.uniforms,n=0;for(let e=0,r=t.length;e<r;e++){let r=Array.isArray(t[e])?t[e]:[t[e]];for(let i=0,a=r.length;i<a;i++){let a=r[i],o=Array.isArray(a.value)?a.value:[a.value],s=Array.isArray(t[e])||Array.isArray(a.value),c=n;for(let e=0,t=o.length;e<t;e++){let t=o[e],r=h(t,s),i=n%16,a=i%r.boundary,l=i+a;n+=a,l!==0&&16-l<r.storage&&(n+=16-l),e===0&&(c=n),n+=r.storage}a.__data=new(a.type===`int`?Int32Array:a.type===`uint`?Uint32Array:Float32Array)((n-c)/Float32Array.BYTES_PER_ELEMENT),a.__offset=c}}let r=n%16;return r>0&&(n+=16-r),e.__size=n,e.__cache={},this}function h(e,t){let n={boundary:0,storage:0};return typeof e==`number`||typeof e==`boolean`?(n.boundary=4,n.storage=4):e.isVector2?(n.boundary=8,n.storage=8):e.isVector3||e.isColor?(n.boundary=16,n.storage=12):e.isVector4?(n.boundary=16,n.storage=16):e.isMatrix3?(n.boundary=16,n.storage=48):e.isMatrix4?(n.boundary=16,n.storage=64):e.isTexture?X(`WebGLRenderer: Texture samplers can not be part of an uniforms group.`):ArrayBuffer.isView(e)?(n.boundary=16,n.storage=e.byteLength):X(`WebGLRenderer: Unsupported uniform value type.`,e),t===!0&&(n.boundary=16,n.storage=Math.ceil(n.storage/16)*16),n}function g(t){let n=t.target;n.removeEventListener(`dispose`,g),e.deleteBuffer(i[n.id]),delete i[n.id],delete a[n.id]}function _(){for(let t in i)e.deleteBuffer(i[t]);i={},a={}}return{bind:o,update:s,dispose:_}}var nh=new Uint16Array([12469,15057,12620,14925,13266,14620,13807,14376,14323,13990,14545,13625,14713,13328,14840,12882,14931,12528,14996,12233,15039,11829,15066,11525,15080,11295,15085,10976,15082,10705,15073,10495,13880,14564,13898,14542,13977,14430,14158,14124,14393,13732,14556,13410,14702,12996,14814,12596,14891,12291,14937,11834,14957,11489,14958,11194,14943,10803,14921,10506,14893,10278,14858,9960,14484,14039,14487,14025,14499,13941,14524,13740,14574,13468,14654,13106,14743,12678,14818,12344,14867,11893,14889,11509,14893,11180,14881,10751,14852,10428,14812,10128,14765,9754,14712,9466,14764,13480,14764,13475,14766,13440,14766,13347,14769,13070,14786,12713,14816,12387,14844,11957,14860,11549,14868,11215,14855,10751,14825,10403,14782,10044,14729,9651,14666,9352,14599,9029,14967,12835,14966,12831,14963,12804,14954,12723,14936,12564,14917,12347,14900,11958,14886,11569,14878,11247,14859,10765,14828,10401,14784,10011,14727,9600,14660,9289,14586,8893,14508,8533,15111,12234,15110,12234,15104,12216,15092,12156,15067,12010,15028,11776,14981,11500,14942,11205,14902,10752,14861,10393,14812,9991,14752,9570,14682,9252,14603,8808,14519,8445,14431,8145,15209,11449,15208,11451,15202,11451,15190,11438,15163,11384,15117,11274,15055,10979,14994,10648,14932,10343,14871,9936,14803,9532,14729,9218,14645,8742,14556,8381,14461,8020,14365,7603,15273,10603,15272,10607,15267,10619,15256,10631,15231,10614,15182,10535,15118,10389,15042,10167,14963,9787,14883,9447,14800,9115,14710,8665,14615,8318,14514,7911,14411,7507,14279,7198,15314,9675,15313,9683,15309,9712,15298,9759,15277,9797,15229,9773,15166,9668,15084,9487,14995,9274,14898,8910,14800,8539,14697,8234,14590,7790,14479,7409,14367,7067,14178,6621,15337,8619,15337,8631,15333,8677,15325,8769,15305,8871,15264,8940,15202,8909,15119,8775,15022,8565,14916,8328,14804,8009,14688,7614,14569,7287,14448,6888,14321,6483,14088,6171,15350,7402,15350,7419,15347,7480,15340,7613,15322,7804,15287,7973,15229,8057,15148,8012,15046,7846,14933,7611,14810,7357,14682,7069,14552,6656,14421,6316,14251,5948,14007,5528,15356,5942,15356,5977,15353,6119,15348,6294,15332,6551,15302,6824,15249,7044,15171,7122,15070,7050,14949,6861,14818,6611,14679,6349,14538,6067,14398,5651,14189,5311,13935,4958,15359,4123,15359,4153,15356,4296,15353,4646,15338,5160,15311,5508,15263,5829,15188,6042,15088,6094,14966,6001,14826,5796,14678,5543,14527,5287,14377,4985,14133,4586,13869,4257,15360,1563,15360,1642,15358,2076,15354,2636,15341,3350,15317,4019,15273,4429,15203,4732,15105,4911,14981,4932,14836,4818,14679,4621,14517,4386,14359,4156,14083,3795,13808,3437,15360,122,15360,137,15358,285,15355,636,15344,1274,15322,2177,15281,2765,15215,3223,15120,3451,14995,3569,14846,3567,14681,3466,14511,3305,14344,3121,14037,2800,13753,2467,15360,0,15360,1,15359,21,15355,89,15346,253,15325,479,15287,796,15225,1148,15133,1492,15008,1749,14856,1882,14685,1886,14506,1783,14324,1608,13996,1398,13702,1183]),rh=null;function ih(){return rh===null&&(rh=new Ic(nh,16,16,gi,ri),rh.name=`DFG_LUT`,rh.minFilter=qr,rh.magFilter=qr,rh.wrapS=Hr,rh.wrapT=Hr,rh.generateMipmaps=!1,rh.needsUpdate=!0),rh}var ah=class{constructor(e={}){let{canvas:t=ya(),context:n=null,depth:r=!0,stencil:i=!1,alpha:a=!1,antialias:o=!1,premultipliedAlpha:s=!0,preserveDrawingBuffer:c=!1,powerPreference:l=`default`,failIfMajorPerformanceCaveat:u=!1,reversedDepthBuffer:d=!1,outputBufferType:f=Xr}=e;this.isWebGLRenderer=!0;let p;if(n!==null){if(typeof WebGLRenderingContext<`u`&&n instanceof WebGLRenderingContext)throw Error(`THREE.WebGLRenderer: WebGL 1 is not supported since r163.`);p=n.getContextAttributes().alpha}else p=a;let m=f,h=new Set([vi,_i,hi]),g=new Set([Xr,ti,$r,oi,ii,ai]),_=new Uint32Array(4),v=new Int32Array(4),y={textures:[],min:[],max:[],resolution:[]},b=null,x=null,S=[],C=[],w=null;this.domElement=t,this.debug={checkShaderErrors:!0,diagnostics:{keywords:!1},onShaderError:null},this.autoClear=!0,this.autoClearColor=!0,this.autoClearDepth=!0,this.autoClearStencil=!0,this.sortObjects=!0,this.clippingPlanes=[],this.localClippingEnabled=!1,this.toneMapping=0,this.toneMappingExposure=1,this.transmissionResolutionScale=1;let T=this,E=!1,D=null,O=null,k=null,A=null;this._outputColorSpace=la;let j=0,M=0,N=null,ee=-1,te=null,ne=new So,re=new So,P=null,F=new cs(0),ie=0,I=t.width,ae=t.height,L=1,oe=null,R=null,se=new So(0,0,I,ae),ce=new So(0,0,I,ae),le=!1,ue=new Bc,de=new Hc,fe=!1,pe=!1,me=new Do,he=new Q,ge=new So,_e={background:null,fog:null,environment:null,overrideMaterial:null,isScene:!0},ve=!1;function ye(){return N===null?L:1}let z=n;function B(e,n){return t.getContext(e,n)}let V,be,H,xe,U,Se,Ce,we,Te,Ee,De,Oe,ke,Ae,W,je,Me,Ne,Pe,Fe,Ie,Le,Re;try{let e={alpha:!0,depth:r,stencil:i,antialias:o,premultipliedAlpha:s,preserveDrawingBuffer:c,powerPreference:l,failIfMajorPerformanceCaveat:u};if(`setAttribute`in t&&t.setAttribute(`data-engine`,`three.js r187`),t.addEventListener(`webglcontextlost`,K,!1),t.addEventListener(`webglcontextrestored`,Be,!1),t.addEventListener(`webglcontextcreationerror`,Ve,!1),z===null){let t=`webgl2`;if(z=B(t,e),z===null)throw B(t)?Error(`THREE.WebGLRenderer: Error creating WebGL context with your selected attributes.`):Error(`THREE.WebGLRenderer: Error creating WebGL context.`)}ze()}catch(e){throw t.removeEventListener(`webglcontextlost`,K,!1),t.removeEventListener(`webglcontextrestored`,Be,!1),t.removeEventListener(`webglcontextcreationerror`,Ve,!1),Ca(`WebGLRenderer: `+e.message),e}function ze(){V=new Tf(z),V.init(),Ie=new qm(z,V),be=new af(z,V,e,Ie),H=new Gm(z,V),be.reversedDepthBuffer&&d&&H.buffers.depth.setReversed(!0),O=z.createFramebuffer(),k=z.createFramebuffer(),A=z.createFramebuffer(),xe=new Of(z),U=new Tm,Se=new Km(z,V,H,U,be,Ie,xe),Ce=new wf(T),we=new Yd(z),Le=new nf(z,we),Te=new Ef(z,we,xe,Le),Ee=new Af(z,Te,we,Le,xe),Ne=new kf(z,be,Se),W=new of(U),De=new wm(T,Ce,V,be,Le,W),Oe=new eh(T,U),ke=new km,Ae=new Im(V),Me=new tf(T,Ce,H,Ee,p,s),je=new Wm(T,Ee,be),Re=new th(z,xe,be,H),Pe=new rf(z,V,xe),Fe=new Df(z,V,xe),xe.programs=De.programs,T.capabilities=be,T.extensions=V,T.properties=U,T.renderLists=ke,T.shadowMap=je,T.state=H,T.info=xe}m!==1009&&(w=new Mf(m,t.width,t.height,o,r,i));let G=new Zm(T,z);this.xr=G,this.getContext=function(){return z},this.getContextAttributes=function(){return z.getContextAttributes()},this.forceContextLoss=function(){let e=V.get(`WEBGL_lose_context`);e&&e.loseContext()},this.forceContextRestore=function(){let e=V.get(`WEBGL_lose_context`);e&&e.restoreContext()},this.getPixelRatio=function(){return L},this.setPixelRatio=function(e){e!==void 0&&(L=e,this.setSize(I,ae,!1))},this.getSize=function(e){return e.set(I,ae)},this.setSize=function(e,n,r=!0){G.isPresenting?X(`WebGLRenderer: Can't change size while VR device is presenting.`):(I=e,ae=n,t.width=Math.floor(e*L),t.height=Math.floor(n*L),r===!0&&(t.style.width=e+`px`,t.style.height=n+`px`),w!==null&&w.setSize(t.width,t.height),this.setViewport(0,0,e,n))},this.getDrawingBufferSize=function(e){return e.set(I*L,ae*L).floor()},this.setDrawingBufferSize=function(e,n,r){I=e,ae=n,L=r,t.width=Math.floor(e*r),t.height=Math.floor(n*r),this.setViewport(0,0,e,n)},this.setEffects=function(e){if(m===1009)Ca(`WebGLRenderer: setEffects() requires outputBufferType set to HalfFloatType or FloatType.`);else{if(e){for(let t=0;t<e.length;t++)if(e[t].isOutputPass===!0){X(`WebGLRenderer: OutputPass is not needed in setEffects(). Tone mapping and color space conversion are applied automatically.`);break}}w.setEffects(e||[])}},this.getCurrentViewport=function(e){return e.copy(ne)},this.getViewport=function(e){return e.copy(se)},this.setViewport=function(e,t,n,r){e.isVector4?se.set(e.x,e.y,e.z,e.w):se.set(e,t,n,r),H.viewport(ne.copy(se).multiplyScalar(ye()).round())},this.getScissor=function(e){return e.copy(ce)},this.setScissor=function(e,t,n,r){e.isVector4?ce.set(e.x,e.y,e.z,e.w):ce.set(e,t,n,r),H.scissor(re.copy(ce).multiplyScalar(ye()).round())},this.getScissorTest=function(){return le},this.setScissorTest=function(e){H.setScissorTest(le=e)},this.setOpaqueSort=function(e){oe=e},this.setTransparentSort=function(e){R=e},this.getClearColor=function(e){return e.copy(Me.getClearColor())},this.setClearColor=function(){Me.setClearColor(...arguments)},this.getClearAlpha=function(){return Me.getClearAlpha()},this.setClearAlpha=function(){Me.setClearAlpha(...arguments)},this.clear=function(e=!0,t=!0,n=!0){let r=0;if(e){let e=!1;if(N!==null){let t=N.texture.format;e=h.has(t)}if(e){let e=N.texture.type,t=g.has(e),n=Me.getClearColor(),r=Me.getClearAlpha(),i=n.r,a=n.g,o=n.b;t?(_[0]=i,_[1]=a,_[2]=o,_[3]=r,z.clearBufferuiv(z.COLOR,0,_)):(v[0]=i,v[1]=a,v[2]=o,v[3]=r,z.clearBufferiv(z.COLOR,0,v))}else r|=z.COLOR_BUFFER_BIT}t&&(r|=z.DEPTH_BUFFER_BIT,this.state.buffers.depth.setMask(!0)),n&&(r|=z.STENCIL_BUFFER_BIT,this.state.buffers.stencil.setMask(4294967295)),r!==0&&z.clear(r)},this.clearColor=function(){this.clear(!0,!1,!1)},this.clearDepth=function(){this.clear(!1,!0,!1)},this.clearStencil=function(){this.clear(!1,!1,!0)},this.setNodesHandler=function(e){e.setRenderer(this),D=e},this.dispose=function(){t.removeEventListener(`webglcontextlost`,K,!1),t.removeEventListener(`webglcontextrestored`,Be,!1),t.removeEventListener(`webglcontextcreationerror`,Ve,!1),Me.dispose(),ke.dispose(),Ae.dispose(),Se.dispose(),U.dispose(),Ce.dispose(),Ee.dispose(),Te.dispose(),Le.dispose(),Re.dispose(),De.dispose(),G.dispose(),G.removeEventListener(`sessionstart`,Je),G.removeEventListener(`sessionend`,Ye),Xe.stop()};function K(e){e.preventDefault(),xa(`WebGLRenderer: Context Lost.`),E=!0}function Be(){xa(`WebGLRenderer: Context Restored.`),E=!1;let e=xe.autoReset,t=je.enabled,n=je.autoUpdate,r=je.needsUpdate,i=je.type;ze(),xe.autoReset=e,je.enabled=t,je.autoUpdate=n,je.needsUpdate=r,je.type=i}function Ve(e){Ca(`WebGLRenderer: A WebGL context could not be created. Reason: `,e.statusMessage)}function He(e){let t=e.target;t.removeEventListener(`dispose`,He),Ue(t)}function Ue(e){We(e),U.remove(e)}function We(e){let t=U.get(e).programs;t!==void 0&&(t.forEach(function(e){De.releaseProgram(e)}),e.isShaderMaterial&&De.releaseShaderCache(e))}this.renderBufferDirect=function(e,t,n,r,i,a){t===null&&(t=_e);let o=i.isMesh&&i.matrixWorld.determinantAffine()<0,s=st(e,t,n,r,i);H.setMaterial(r,o);let c=n.index,l=1;if(r.wireframe===!0){if(c=Te.getWireframeAttribute(n),c===void 0)return;l=2}let u=n.drawRange,d=n.attributes.position,f=u.start*l,p=(u.start+u.count)*l;a!==null&&(f=Math.max(f,a.start*l),p=Math.min(p,(a.start+a.count)*l)),c===null?d!=null&&(f=Math.max(f,0),p=Math.min(p,d.count)):(f=Math.max(f,0),p=Math.min(p,c.count));let m=p-f;if(m<0||m===1/0)return;Le.setup(i,r,s,n,c);let h,g=Pe;if(c!==null&&(h=we.get(c),g=Fe,g.setIndex(h)),i.isMesh)r.wireframe===!0?(H.setLineWidth(r.wireframeLinewidth*ye()),g.setMode(z.LINES)):g.setMode(z.TRIANGLES);else if(i.isLine){let e=r.linewidth;e===void 0&&(e=1),H.setLineWidth(e*ye()),i.isLineSegments?g.setMode(z.LINES):i.isLineLoop?g.setMode(z.LINE_LOOP):g.setMode(z.LINE_STRIP)}else i.isPoints?g.setMode(z.POINTS):i.isSprite&&g.setMode(z.TRIANGLES);if(i.isBatchedMesh){if(V.get(`WEBGL_multi_draw`))g.renderMultiDraw(i._multiDrawStarts,i._multiDrawCounts,i._multiDrawCount);else{let e=i._multiDrawStarts,t=i._multiDrawCounts,n=i._multiDrawCount,a=c?we.get(c).bytesPerElement:1,o=U.get(r).currentProgram.getUniforms();for(let r=0;r<n;r++)o.setValue(z,`_gl_DrawID`,r),g.render(e[r]/a,t[r])}}else if(i.isInstancedMesh)g.renderInstances(f,m,i.count);else if(n.isInstancedBufferGeometry){let e=n._maxInstanceCount===void 0?1/0:n._maxInstanceCount,t=Math.min(n.instanceCount,e);g.renderInstances(f,m,t)}else g.render(f,m)};function Ge(e,t,n,r){D!==null&&e.isNodeMaterial&&D.setObject(r,e),fe===!0&&W.setState(e,n,!1),e.transparent===!0&&e.side===2&&e.forceSinglePass===!1?(e.side=1,e.needsUpdate=!0,rt(e,t,r),e.side=0,e.needsUpdate=!0,rt(e,t,r),e.side=2):rt(e,t,r)}this.compile=function(e,t,n=null){n===null&&(n=e),D!==null&&D.renderStart(e,t,n),x=Ae.get(n),x.init(t),C.push(x),n.traverseVisible(function(e){e.isLight&&e.layers.test(t.layers)&&(x.pushLight(e),e.castShadow&&x.pushShadow(e))}),e!==n&&e.traverseVisible(function(e){e.isLight&&e.layers.test(t.layers)&&(x.pushLight(e),e.castShadow&&x.pushShadow(e))}),x.setupLights(),D!==null&&D.updateLights(x.state.lightsArray),pe=this.localClippingEnabled,fe=W.init(this.clippingPlanes,pe),fe===!0&&W.setGlobalState(this.clippingPlanes,t),D!==null&&je.render(x.state.shadowsArray,n,t);let r=new Set;return e.traverse(function(e){if(!(e.isMesh||e.isPoints||e.isLine||e.isSprite))return;let i=e.material;if(i){if(Array.isArray(i))for(let a=0;a<i.length;a++){let o=i[a];Ge(o,n,t,e),r.add(o)}else Ge(i,n,t,e),r.add(i)}}),x=C.pop(),D!==null&&D.renderEnd(),r},this.compileAsync=function(e,t,n=null){let r=this.compile(e,t,n);return new Promise(t=>{function n(){r.forEach(function(e){let t=U.get(e).currentProgram;(t===void 0||t.isReady())&&r.delete(e)}),r.size===0?t(e):setTimeout(n,10)}V.get(`KHR_parallel_shader_compile`)===null?setTimeout(n,10):n()})};let Ke=null;function qe(e){Ke&&Ke(e)}function Je(){Xe.stop()}function Ye(){Xe.start()}let Xe=new Jd;Xe.setAnimationLoop(qe),typeof self<`u`&&Xe.setContext(self),this.setAnimationLoop=function(e){Ke=e,G.setAnimationLoop(e),e===null?Xe.stop():Xe.start()},G.addEventListener(`sessionstart`,Je),G.addEventListener(`sessionend`,Ye),this.render=function(e,t){if(t!==void 0&&t.isCamera!==!0){Ca(`WebGLRenderer.render: camera is not an instance of THREE.Camera.`);return}if(E===!0)return;D!==null&&D.renderStart(e,t);let n=G.enabled===!0&&G.isPresenting===!0,r=w!==null&&(N===null||n)&&w.begin(T,N);if(e.matrixWorldAutoUpdate===!0&&e.updateMatrixWorld(),t.parent===null&&t.matrixWorldAutoUpdate===!0&&t.updateMatrixWorld(),G.enabled===!0&&G.isPresenting===!0&&(w===null||w.isCompositing()===!1)&&(G.cameraAutoUpdate===!0&&G.updateCamera(t),t=G.getCamera()),e.isScene===!0&&e.onBeforeRender(T,e,t,N),x=Ae.get(e,C.length),x.init(t),x.state.textureUnits=Se.getTextureUnits(),C.push(x),me.multiplyMatrices(t.projectionMatrix,t.matrixWorldInverse),t.isArrayCamera?de.setFromArrayCamera(t):ue.setFromProjectionMatrix(me,ha,t.reversedDepth),pe=this.localClippingEnabled,fe=W.init(this.clippingPlanes,pe),b=ke.get(e,S.length),b.init(),S.push(b),this.info.render.frame++,G.enabled===!0&&G.isPresenting===!0){let e=T.xr.getDepthSensingMesh();e!==null&&Ze(e,t,-1/0,T.sortObjects)}Ze(e,t,0,T.sortObjects),b.finish(),D!==null&&D.updateLights(x.state.lightsArray),T.sortObjects===!0&&b.sort(oe,R),ve=G.enabled===!1||G.isPresenting===!1||G.hasDepthSensing()===!1,ve&&Me.addToRenderList(b,e),this.info.autoReset===!0&&this.info.reset(),fe===!0&&W.beginShadows();let i=x.state.shadowsArray;if(je.render(i,e,t),fe===!0&&W.endShadows(),(r&&w.hasRenderPass())===!1){let n=b.opaque,r=b.transmissive;if(x.setupLights(),t.isArrayCamera){let i=t.cameras;if(r.length>0)for(let t=0,a=i.length;t<a;t++){let a=i[t];$e(n,r,e,a)}ve&&Me.render(e);for(let t=0,n=i.length;t<n;t++){let n=i[t];Qe(b,e,n,n.viewport)}}else r.length>0&&$e(n,r,e,t),ve&&Me.render(e),Qe(b,e,t)}N!==null&&M===0&&(Se.updateMultisampleRenderTarget(N),Se.updateRenderTargetMipmap(N)),r&&w.end(T),e.isScene===!0&&e.onAfterRender(T,e,t),Le.resetDefaultState(),ee=-1,te=null,C.pop(),C.length>0?(x=C[C.length-1],Se.setTextureUnits(x.state.textureUnits),fe===!0&&W.setGlobalState(T.clippingPlanes,x.state.camera)):x=null,S.pop(),b=S.length>0?S[S.length-1]:null,D!==null&&D.renderEnd()};function Ze(e,t,n,r){if(e.visible===!1)return;if(e.layers.test(t.layers)){if(e.isGroup)n=e.renderOrder;else if(e.isLOD)e.autoUpdate===!0&&e.update(t);else if(e.isLight)x.pushLight(e),e.castShadow&&x.pushShadow(e);else if(e.isSprite){let i=t.isArrayCamera?de:ue;if(!e.frustumCulled||e.intersectsFrustum(i)){r&&ge.setFromMatrixPosition(e.matrixWorld).applyMatrix4(me);let i=Ee.update(e),a=e.material;a.visible&&b.push(e,i,a,n,ge.z,null,t)}}else if(e.isMesh||e.isLine||e.isPoints){let i=t.isArrayCamera?de:ue;if(!e.frustumCulled||e.intersectsFrustum(i)){let i=Ee.update(e),a=e.material;if(r&&(e.boundingSphere===void 0?(i.boundingSphere===null&&i.computeBoundingSphere(),ge.copy(i.boundingSphere.center)):(e.boundingSphere===null&&e.computeBoundingSphere(),ge.copy(e.boundingSphere.center)),ge.applyMatrix4(e.matrixWorld).applyMatrix4(me)),Array.isArray(a)){let r=i.groups;for(let o=0,s=r.length;o<s;o++){let s=r[o],c=a[s.materialIndex];c&&c.visible&&b.push(e,i,c,n,ge.z,s,t)}}else a.visible&&b.push(e,i,a,n,ge.z,null,t)}}}let i=e.children;for(let e=0,a=i.length;e<a;e++)Ze(i[e],t,n,r)}function Qe(e,t,n,r){let{opaque:i,transmissive:a,transparent:o}=e;x.setupLightsView(n),fe===!0&&W.setGlobalState(T.clippingPlanes,n),r&&H.viewport(ne.copy(r)),i.length>0&&et(i,t,n),a.length>0&&et(a,t,n),o.length>0&&et(o,t,n),H.buffers.depth.setTest(!0),H.buffers.depth.setMask(!0),H.buffers.color.setMask(!0),H.setPolygonOffset(!1)}function $e(e,t,n,r){if((n.isScene===!0?n.overrideMaterial:null)!==null)return;if(x.state.transmissionRenderTarget[r.id]===void 0){let e=V.has(`EXT_color_buffer_half_float`)||V.has(`EXT_color_buffer_float`);x.state.transmissionRenderTarget[r.id]=new wo(1,1,{generateMipmaps:!0,type:e?ri:Xr,minFilter:Yr,samples:Math.max(4,be.samples),stencilBuffer:i,resolveDepthBuffer:!1,resolveStencilBuffer:!1,storeMultisampledDepthBuffer:!1,storeMultisampledStencilBuffer:!1,colorSpace:uo.workingColorSpace})}let a=x.state.transmissionRenderTarget[r.id],o=r.viewport||ne;a.setSize(o.z*T.transmissionResolutionScale,o.w*T.transmissionResolutionScale);let s=T.getRenderTarget(),c=T.getActiveCubeFace(),l=T.getActiveMipmapLevel();T.setRenderTarget(a),T.getClearColor(F),ie=T.getClearAlpha(),ie<1&&T.setClearColor(16777215,.5),T.clear(),ve&&Me.render(n);let u=T.toneMapping;T.toneMapping=0;let d=r.viewport;if(r.viewport!==void 0&&(r.viewport=void 0),x.setupLightsView(r),fe===!0&&W.setGlobalState(T.clippingPlanes,r),et(e,n,r),Se.updateMultisampleRenderTarget(a),Se.updateRenderTargetMipmap(a),V.has(`WEBGL_multisampled_render_to_texture`)===!1){let e=!1;for(let i=0,a=t.length;i<a;i++){let{object:a,geometry:o,material:s,group:c}=t[i];if(s.side===2&&a.layers.test(r.layers)){let t=s.side;s.side=1,s.needsUpdate=!0,tt(a,n,r,o,s,c),s.side=t,s.needsUpdate=!0,e=!0}}e===!0&&(Se.updateMultisampleRenderTarget(a),Se.updateRenderTargetMipmap(a))}T.setRenderTarget(s,c,l),T.setClearColor(F,ie),d!==void 0&&(r.viewport=d),T.toneMapping=u}function et(e,t,n){let r=t.isScene===!0?t.overrideMaterial:null;for(let i=0,a=e.length;i<a;i++){let a=e[i],{object:o,geometry:s,group:c}=a,l=a.material;l.allowOverride===!0&&r!==null&&(l=r),o.layers.test(n.layers)&&tt(o,t,n,s,l,c)}}function tt(e,t,n,r,i,a){D!==null&&i.isNodeMaterial&&D.setObject(e,i),e.onBeforeRender(T,t,n,r,i,a),e.modelViewMatrix.multiplyMatrices(n.matrixWorldInverse,e.matrixWorld),e.normalMatrix.getNormalMatrix(e.modelViewMatrix),i.onBeforeRender(T,t,n,r,e,a),i.transparent===!0&&i.side===2&&i.forceSinglePass===!1?(i.side=1,i.needsUpdate=!0,T.renderBufferDirect(n,t,r,i,e,a),i.side=0,i.needsUpdate=!0,T.renderBufferDirect(n,t,r,i,e,a),i.side=2):T.renderBufferDirect(n,t,r,i,e,a),e.onAfterRender(T,t,n,r,i,a)}function nt(e){let t=0;for(let n of e)n.texture!==null&&t++;return t}function rt(e,t,n){t.isScene!==!0&&(t=_e);let r=U.get(e),i=x.state.lights,a=x.state.shadowsArray,o=i.state.version,s=De.getParameters(e,i.state,a,t,n,x.state.lightProbeGridArray),c=De.getProgramCacheKey(s),l=r.programs;r.environment=e.isMeshStandardMaterial||e.isMeshLambertMaterial||e.isMeshPhongMaterial?t.environment:null,r.fog=t.fog;let u=e.isMeshStandardMaterial||e.isMeshLambertMaterial&&!e.envMap||e.isMeshPhongMaterial&&!e.envMap;r.envMap=Ce.get(e.envMap||r.environment,u),r.envMapRotation=r.environment!==null&&e.envMap===null?t.environmentRotation:e.envMapRotation,l===void 0&&(e.addEventListener(`dispose`,He),l=new Map,r.programs=l,r.programVariants=new Map);let d=l.get(c);if(d!==void 0){if(r.currentProgram===d&&r.lightsStateVersion===o)return ot(e,s),d}else s.uniforms=De.getUniforms(e),D!==null&&e.isNodeMaterial&&D.build(e,n,s),e.onBeforeCompile(s,T),d=De.acquireProgram(s,c),l.set(c,d),r.uniforms=s.uniforms;let f=r.uniforms;return(!e.isShaderMaterial&&!e.isRawShaderMaterial||e.clipping===!0)&&(f.clippingPlanes=W.uniform),ot(e,s),r.needsLights=lt(e),r.lightsStateVersion=o,r.needsLights&&(f.ambientLightColor.value=i.state.ambient,f.lightProbe.value=i.state.probe,f.sunLights.value=i.state.sun,f.sunLightShadows.value=i.state.sunShadow,f.directionalLights.value=i.state.directional,f.directionalLightShadows.value=i.state.directionalShadow,f.spotLights.value=i.state.spot,f.spotLightShadows.value=i.state.spotShadow,f.rectAreaLights.value=i.state.rectArea,f.ltc_1.value=i.state.rectAreaLTC1,f.ltc_2.value=i.state.rectAreaLTC2,f.pointLights.value=i.state.point,f.pointLightShadows.value=i.state.pointShadow,f.hemisphereLights.value=i.state.hemi,f.sunShadowMatrix.value=i.state.sunShadowMatrix,f.sunShadowCascade.value=i.state.sunShadowCascade,f.directionalShadowMatrix.value=i.state.directionalShadowMatrix,f.spotLightMatrix.value=i.state.spotLightMatrix,f.spotLightMap.value=i.state.spotLightMap,f.pointShadowMatrix.value=i.state.pointShadowMatrix),r.numLightProbeGrids=nt(x.state.lightProbeGridArray),r.currentProgram=d,r.uniformsList=null,d}function it(e,t,n,r,i){let a=U.get(e),o=a.currentProgram.id+`,`+r+`,`+i,s=a.programVariants.get(o);return s===void 0?(s=rt(e,t,n),a.programVariants.set(o,s)):(a.currentProgram=s,a.uniformsList=null,a.outputColorSpace=r,a.toneMapping=i),s}function at(e){if(e.uniformsList===null){let t=e.currentProgram.getUniforms();e.uniformsList=Vp.seqWithValue(t.seq,e.uniforms)}return e.uniformsList}function ot(e,t){let n=U.get(e);n.outputColorSpace=t.outputColorSpace,n.batching=t.batching,n.batchingColor=t.batchingColor,n.instancing=t.instancing,n.instancingColor=t.instancingColor,n.instancingMorph=t.instancingMorph,n.skinning=t.skinning,n.morphTargets=t.morphTargets,n.morphNormals=t.morphNormals,n.morphColors=t.morphColors,n.morphTargetsCount=t.morphTargetsCount,n.numClippingPlanes=t.numClippingPlanes,n.numIntersection=t.numClipIntersection,n.vertexAlphas=t.vertexAlphas,n.vertexTangents=t.vertexTangents,n.toneMapping=t.toneMapping}function st(e,t,n,r,i){t.isScene!==!0&&(t=_e),Se.resetTextureUnits();let a=t.fog,o=r.isMeshStandardMaterial||r.isMeshLambertMaterial||r.isMeshPhongMaterial?t.environment:null,s=N===null?T.outputColorSpace:N.isXRRenderTarget===!0?N.texture.colorSpace:uo.workingColorSpace,c=r.isMeshStandardMaterial||r.isMeshLambertMaterial&&!r.envMap||r.isMeshPhongMaterial&&!r.envMap,l=Ce.get(r.envMap||o,c),u=r.vertexColors===!0&&!!n.attributes.color&&n.attributes.color.itemSize===4,d=!!n.attributes.tangent&&(!!r.normalMap||r.anisotropy>0),f=!!n.morphAttributes.position,p=!!n.morphAttributes.normal,m=!!n.morphAttributes.color,h=0;r.toneMapped&&(N===null||N.isXRRenderTarget===!0)&&(h=T.toneMapping);let g=n.morphAttributes.position||n.morphAttributes.normal||n.morphAttributes.color,_=g===void 0?0:g.length,v=U.get(r),b=x.state.lights;if(fe===!0&&(pe===!0||e!==te)){let t=e===te&&r.id===ee;W.setState(r,e,t)}let S=!1,C=!1;r.version===v.__version?v.needsLights&&v.lightsStateVersion!==b.state.version||i.isBatchedMesh&&v.batching===!1||!i.isBatchedMesh&&v.batching===!0||i.isBatchedMesh&&v.batchingColor===!0&&i._colorsTexture===null||i.isBatchedMesh&&v.batchingColor===!1&&i._colorsTexture!==null||i.isInstancedMesh&&v.instancing===!1||!i.isInstancedMesh&&v.instancing===!0||i.isSkinnedMesh&&v.skinning===!1||!i.isSkinnedMesh&&v.skinning===!0||i.isInstancedMesh&&v.instancingColor===!0&&i.instanceColor===null||i.isInstancedMesh&&v.instancingColor===!1&&i.instanceColor!==null||i.isInstancedMesh&&v.instancingMorph===!0&&i.morphTexture===null||i.isInstancedMesh&&v.instancingMorph===!1&&i.morphTexture!==null?S=!0:v.envMap===l?r.fog===!0&&v.fog!==a||v.numClippingPlanes!==void 0&&(v.numClippingPlanes!==W.numPlanes||v.numIntersection!==W.numIntersection)?S=!0:v.vertexAlphas===u&&v.vertexTangents===d&&v.morphTargets===f&&v.morphNormals===p&&v.morphColors===m&&v.morphTargetsCount===_&&v.numLightProbeGrids===nt(x.state.lightProbeGridArray)?(v.outputColorSpace!==s||v.toneMapping!==h)&&(C=!0):S=!0:S=!0:(S=!0,v.__version=r.version);let w=v.currentProgram;(S===!0||C===!0)&&(w=C===!0?it(r,t,i,s,h):rt(r,t,i),D&&r.isNodeMaterial&&D.onUpdateProgram(r,w,v));let E=!1,O=!1,k=!1,A=w.getUniforms(),j=v.uniforms;if(H.useProgram(w.program)&&(E=!0,O=!0,k=!0),r.id!==ee&&(ee=r.id,O=!0),E||te!==e){H.buffers.depth.getReversed()&&e.reversedDepth!==!0&&(e._reversedDepth=!0,e.updateProjectionMatrix()),A.setValue(z,`projectionMatrix`,e.projectionMatrix),A.setValue(z,`viewMatrix`,e.matrixWorldInverse);let t=A.map.cameraPosition;t!==void 0&&t.setValue(z,he.setFromMatrixPosition(e.matrixWorld)),be.logarithmicDepthBuffer&&A.setValue(z,`logDepthBufFC`,2/(Math.log(e.far+1)/Math.LN2)),(r.isMeshPhongMaterial||r.isMeshToonMaterial||r.isMeshLambertMaterial||r.isMeshBasicMaterial||r.isMeshStandardMaterial||r.isShaderMaterial)&&A.setValue(z,`isOrthographic`,e.isOrthographicCamera===!0),te!==e&&(te=e,O=!0,k=!0)}if(v.needsLights&&(b.state.sunShadowMap.length>0&&A.setValue(z,`sunShadowMap`,b.state.sunShadowMap,Se),b.state.directionalShadowMap.length>0&&A.setValue(z,`directionalShadowMap`,b.state.directionalShadowMap,Se),b.state.spotShadowMap.length>0&&A.setValue(z,`spotShadowMap`,b.state.spotShadowMap,Se),b.state.pointShadowMap.length>0&&A.setValue(z,`pointShadowMap`,b.state.pointShadowMap,Se)),i.isSkinnedMesh){A.setOptional(z,i,`bindMatrix`),A.setOptional(z,i,`bindMatrixInverse`);let e=i.skeleton;e&&(e.boneTexture===null&&e.computeBoneTexture(),A.setValue(z,`boneTexture`,e.boneTexture,Se))}i.isBatchedMesh&&(A.setOptional(z,i,`batchingTexture`),A.setValue(z,`batchingTexture`,i._matricesTexture,Se),A.setOptional(z,i,`batchingIdTexture`),A.setValue(z,`batchingIdTexture`,i._indirectTexture,Se),A.setOptional(z,i,`batchingColorTexture`),i._colorsTexture!==null&&A.setValue(z,`batchingColorTexture`,i._colorsTexture,Se));let M=n.morphAttributes;if((M.position!==void 0||M.normal!==void 0||M.color!==void 0)&&Ne.update(i,n,w),(O||v.receiveShadow!==i.receiveShadow)&&(v.receiveShadow=i.receiveShadow,A.setValue(z,`receiveShadow`,i.receiveShadow)),(r.isMeshStandardMaterial||r.isMeshLambertMaterial||r.isMeshPhongMaterial)&&r.envMap===null&&t.environment!==null&&(j.envMapIntensity.value=t.environmentIntensity),j.dfgLUT!==void 0&&(j.dfgLUT.value=ih()),O){if(A.setValue(z,`toneMappingExposure`,T.toneMappingExposure),v.needsLights&&ct(j,k),a&&r.fog===!0&&Oe.refreshFogUniforms(j,a),Oe.refreshMaterialUniforms(j,r,L,ae,x.state.transmissionRenderTarget[e.id]),v.needsLights&&v.numLightProbeGrids>0){let e=y,t=0;for(let n of x.state.lightProbeGridArray)n.texture!==null&&(e.textures[t]=n.texture,e.min[t]=n.boundingBox.min,e.max[t]=n.boundingBox.max,e.resolution[t]=n.resolution,t++);for(let n in e)e[n].length=t;j.probesSH.value=e.textures,j.probesMin.value=e.min,j.probesMax.value=e.max,j.probesResolution.value=e.resolution}Vp.upload(z,at(v),j,Se)}if(r.isShaderMaterial&&r.uniformsNeedUpdate===!0&&(Vp.upload(z,at(v),j,Se),r.uniformsNeedUpdate=!1),r.isSpriteMaterial&&A.setValue(z,`center`,i.center),A.setValue(z,`modelViewMatrix`,i.modelViewMatrix),A.setValue(z,`normalMatrix`,i.normalMatrix),A.setValue(z,`modelMatrix`,i.matrixWorld),r.uniformsGroups!==void 0){let e=r.uniformsGroups;for(let t=0,n=e.length;t<n;t++){let n=e[t];Re.update(n,w),Re.bind(n,w)}}return w}function ct(e,t){e.ambientLightColor.needsUpdate=t,e.lightProbe.needsUpdate=t,e.sunLights.needsUpdate=t,e.sunLightShadows.needsUpdate=t,e.directionalLights.needsUpdate=t,e.directionalLightShadows.needsUpdate=t,e.pointLights.needsUpdate=t,e.pointLightShadows.needsUpdate=t,e.spotLights.needsUpdate=t,e.spotLightShadows.needsUpdate=t,e.rectAreaLights.needsUpdate=t,e.hemisphereLights.needsUpdate=t}function lt(e){return e.isMeshLambertMaterial||e.isMeshToonMaterial||e.isMeshPhongMaterial||e.isMeshStandardMaterial||e.isShadowMaterial||e.isShaderMaterial&&e.lights===!0}this.getActiveCubeFace=function(){return j},this.getActiveMipmapLevel=function(){return M},this.getRenderTarget=function(){return N},this.setRenderTargetTextures=function(e,t,n){let r=U.get(e);r.__autoAllocateDepthBuffer=e.resolveDepthBuffer===!1,r.__autoAllocateDepthBuffer===!1&&(r.__useRenderToTexture=!1),U.get(e.texture).__webglTexture=t,U.get(e.depthTexture).__webglTexture=r.__autoAllocateDepthBuffer?void 0:n,r.__hasExternalTextures=!0},this.setRenderTargetFramebuffer=function(e,t){let n=U.get(e);n.__webglFramebuffer=t,n.__useDefaultFramebuffer=t===void 0},this.setRenderTarget=function(e,t=0,n=0){N=e,j=t,M=n;let r=null,i=!1,a=!1;if(e){let o=U.get(e);if(o.__useDefaultFramebuffer!==void 0){H.bindFramebuffer(z.FRAMEBUFFER,o.__webglFramebuffer),ne.copy(e.viewport),re.copy(e.scissor),P=e.scissorTest,H.viewport(ne),H.scissor(re),H.setScissorTest(P),ee=-1;return}if(o.__webglFramebuffer===void 0)Se.setupRenderTarget(e);else if(o.__hasExternalTextures)Se.rebindTextures(e,U.get(e.texture).__webglTexture,U.get(e.depthTexture).__webglTexture);else if(e.depthBuffer){let t=e.depthTexture;if(o.__boundDepthTexture!==t){if(t!==null&&U.has(t)&&(e.width!==t.image.width||e.height!==t.image.height))throw Error(`THREE.WebGLRenderer: Attached DepthTexture is initialized to the incorrect size.`);Se.setupDepthRenderbuffer(e)}}let s=e.texture;(s.isData3DTexture||s.isDataArrayTexture||s.isCompressedArrayTexture)&&(a=!0);let c=U.get(e).__webglFramebuffer;e.isWebGLCubeRenderTarget?(r=Array.isArray(c[t])?c[t][n]:c[t],i=!0):r=e.samples>0&&Se.useMultisampledRTT(e)===!1?U.get(e).__webglMultisampledFramebuffer:Array.isArray(c)?c[n]:c,ne.copy(e.viewport),re.copy(e.scissor),P=e.scissorTest}else ne.copy(se).multiplyScalar(L).floor(),re.copy(ce).multiplyScalar(L).floor(),P=le;if(n!==0&&(r=O),H.bindFramebuffer(z.FRAMEBUFFER,r)&&H.drawBuffers(e,r),H.viewport(ne),H.scissor(re),H.setScissorTest(P),i){let r=U.get(e.texture);z.framebufferTexture2D(z.FRAMEBUFFER,z.COLOR_ATTACHMENT0,z.TEXTURE_CUBE_MAP_POSITIVE_X+t,r.__webglTexture,n)}else if(a){let r=t;for(let t=0;t<e.textures.length;t++){let i=U.get(e.textures[t]);z.framebufferTextureLayer(z.FRAMEBUFFER,z.COLOR_ATTACHMENT0+t,i.__webglTexture,n,r)}}else if(e!==null&&n!==0){let t=U.get(e.texture);z.framebufferTexture2D(z.FRAMEBUFFER,z.COLOR_ATTACHMENT0,z.TEXTURE_2D,t.__webglTexture,n)}ee=-1};function ut(e){let t=U.get(e);return(t.__readFormat!==e.format||t.__readType!==e.type)&&(t.__readFormat=e.format,t.__readType=e.type,t.__formatReadable=be.textureFormatReadable(e.format),t.__typeReadable=be.textureTypeReadable(e.type)),t}this.readRenderTargetPixels=function(e,t,n,r,i,a,o,s=0){if(!(e&&e.isWebGLRenderTarget)){Ca(`WebGLRenderer.readRenderTargetPixels: renderTarget is not THREE.WebGLRenderTarget.`);return}let c=U.get(e).__webglFramebuffer;if(e.isWebGLCubeRenderTarget&&o!==void 0&&(c=c[o],Array.isArray(c)&&(c=c[0])),c){H.bindFramebuffer(z.FRAMEBUFFER,c);try{let o=e.textures[s],c=o.format,l=o.type;e.textures.length>1&&z.readBuffer(z.COLOR_ATTACHMENT0+s);let u=ut(o);if(u.__formatReadable===!1){Ca(`WebGLRenderer.readRenderTargetPixels: renderTarget is not in RGBA or implementation defined format.`);return}if(u.__typeReadable===!1){Ca(`WebGLRenderer.readRenderTargetPixels: renderTarget is not in UnsignedByteType or implementation defined type.`);return}t>=0&&t<=e.width-r&&n>=0&&n<=e.height-i&&z.readPixels(t,n,r,i,Ie.convert(c),Ie.convert(l),a)}finally{let e=N===null?null:U.get(N).__webglFramebuffer;H.bindFramebuffer(z.FRAMEBUFFER,e)}}},this.readRenderTargetPixelsAsync=async function(e,t,n,r,i,a,o,s=0){if(!(e&&e.isWebGLRenderTarget))throw Error(`THREE.WebGLRenderer.readRenderTargetPixels: renderTarget is not THREE.WebGLRenderTarget.`);let c=U.get(e).__webglFramebuffer;if(e.isWebGLCubeRenderTarget&&o!==void 0&&(c=c[o],Array.isArray(c)&&(c=c[0])),c){if(t>=0&&t<=e.width-r&&n>=0&&n<=e.height-i){H.bindFramebuffer(z.FRAMEBUFFER,c);let o=e.textures[s],l=o.format,u=o.type;e.textures.length>1&&z.readBuffer(z.COLOR_ATTACHMENT0+s);let d=ut(o);if(d.__formatReadable===!1)throw Error(`THREE.WebGLRenderer.readRenderTargetPixelsAsync: renderTarget is not in RGBA or implementation defined format.`);if(d.__typeReadable===!1)throw Error(`THREE.WebGLRenderer.readRenderTargetPixelsAsync: renderTarget is not in UnsignedByteType or implementation defined type.`);let f=z.createBuffer();z.bindBuffer(z.PIXEL_PACK_BUFFER,f),z.bufferData(z.PIXEL_PACK_BUFFER,a.byteLength,z.STREAM_READ),z.readPixels(t,n,r,i,Ie.convert(l),Ie.convert(u),0),z.bindBuffer(z.PIXEL_PACK_BUFFER,null);let p=N===null?null:U.get(N).__webglFramebuffer;H.bindFramebuffer(z.FRAMEBUFFER,p);let m=z.fenceSync(z.SYNC_GPU_COMMANDS_COMPLETE,0);return z.flush(),await Ta(z,m,4),z.bindBuffer(z.PIXEL_PACK_BUFFER,f),z.getBufferSubData(z.PIXEL_PACK_BUFFER,0,a),z.bindBuffer(z.PIXEL_PACK_BUFFER,null),z.deleteBuffer(f),z.deleteSync(m),a}throw Error(`THREE.WebGLRenderer.readRenderTargetPixelsAsync: requested read bounds are out of range.`)}},this.copyFramebufferToTexture=function(e,t=null,n=0){let r=2**-n,i=Math.floor(e.image.width*r),a=Math.floor(e.image.height*r),o=t===null?0:t.x,s=t===null?0:t.y;Se.setTexture2D(e,0),z.copyTexSubImage2D(z.TEXTURE_2D,n,0,0,o,s,i,a),H.unbindTexture()},this.copyTextureToTexture=function(e,t,n=null,r=null,i=0,a=0){let o,s,c,l,u,d,f,p,m,h=e.isCompressedTexture?e.mipmaps[a]:e.image;if(n!==null)o=n.max.x-n.min.x,s=n.max.y-n.min.y,c=n.isBox3?n.max.z-n.min.z:1,l=n.min.x,u=n.min.y,d=n.isBox3?n.min.z:0;else{let t=2**-i;o=Math.floor(h.width*t),s=Math.floor(h.height*t),c=e.isDataArrayTexture?h.depth:e.isData3DTexture?Math.floor(h.depth*t):1,l=0,u=0,d=0}r===null?(f=0,p=0,m=0):(f=r.x,p=r.y,m=r.z);let g=Ie.convert(t.format),_=Ie.convert(t.type),v;t.isData3DTexture?(Se.setTexture3D(t,0),v=z.TEXTURE_3D):t.isDataArrayTexture||t.isCompressedArrayTexture?(Se.setTexture2DArray(t,0),v=z.TEXTURE_2D_ARRAY):(Se.setTexture2D(t,0),v=z.TEXTURE_2D),H.activeTexture(z.TEXTURE0),H.pixelStorei(z.UNPACK_FLIP_Y_WEBGL,t.flipY),H.pixelStorei(z.UNPACK_PREMULTIPLY_ALPHA_WEBGL,t.premultiplyAlpha),H.pixelStorei(z.UNPACK_ALIGNMENT,t.unpackAlignment);let y=H.getParameter(z.UNPACK_ROW_LENGTH),b=H.getParameter(z.UNPACK_IMAGE_HEIGHT),x=H.getParameter(z.UNPACK_SKIP_PIXELS),S=H.getParameter(z.UNPACK_SKIP_ROWS),C=H.getParameter(z.UNPACK_SKIP_IMAGES);H.pixelStorei(z.UNPACK_ROW_LENGTH,h.width),H.pixelStorei(z.UNPACK_IMAGE_HEIGHT,h.height),H.pixelStorei(z.UNPACK_SKIP_PIXELS,l),H.pixelStorei(z.UNPACK_SKIP_ROWS,u),H.pixelStorei(z.UNPACK_SKIP_IMAGES,d);let w=e.isDataArrayTexture||e.isData3DTexture,T=t.isDataArrayTexture||t.isData3DTexture;if(e.isDepthTexture){let n=U.get(e),r=U.get(t),h=U.get(n.__renderTarget),g=U.get(r.__renderTarget);H.bindFramebuffer(z.READ_FRAMEBUFFER,h.__webglFramebuffer),H.bindFramebuffer(z.DRAW_FRAMEBUFFER,g.__webglFramebuffer);for(let n=0;n<c;n++)w&&(z.framebufferTextureLayer(z.READ_FRAMEBUFFER,z.COLOR_ATTACHMENT0,U.get(e).__webglTexture,i,d+n),z.framebufferTextureLayer(z.DRAW_FRAMEBUFFER,z.COLOR_ATTACHMENT0,U.get(t).__webglTexture,a,m+n)),z.blitFramebuffer(l,u,l+o,u+s,f,p,f+o,p+s,z.DEPTH_BUFFER_BIT,z.NEAREST);H.bindFramebuffer(z.READ_FRAMEBUFFER,null),H.bindFramebuffer(z.DRAW_FRAMEBUFFER,null)}else if(i!==0||e.isRenderTargetTexture||U.has(e)){let n=U.get(e),r=U.get(t);H.bindFramebuffer(z.READ_FRAMEBUFFER,k),H.bindFramebuffer(z.DRAW_FRAMEBUFFER,A);for(let e=0;e<c;e++)w?z.framebufferTextureLayer(z.READ_FRAMEBUFFER,z.COLOR_ATTACHMENT0,n.__webglTexture,i,d+e):z.framebufferTexture2D(z.READ_FRAMEBUFFER,z.COLOR_ATTACHMENT0,z.TEXTURE_2D,n.__webglTexture,i),T?z.framebufferTextureLayer(z.DRAW_FRAMEBUFFER,z.COLOR_ATTACHMENT0,r.__webglTexture,a,m+e):z.framebufferTexture2D(z.DRAW_FRAMEBUFFER,z.COLOR_ATTACHMENT0,z.TEXTURE_2D,r.__webglTexture,a),i===0?T?z.copyTexSubImage3D(v,a,f,p,m+e,l,u,o,s):z.copyTexSubImage2D(v,a,f,p,l,u,o,s):z.blitFramebuffer(l,u,l+o,u+s,f,p,f+o,p+s,z.COLOR_BUFFER_BIT,z.NEAREST);H.bindFramebuffer(z.READ_FRAMEBUFFER,null),H.bindFramebuffer(z.DRAW_FRAMEBUFFER,null)}else T?e.isDataTexture||e.isData3DTexture?z.texSubImage3D(v,a,f,p,m,o,s,c,g,_,h.data):t.isCompressedArrayTexture?z.compressedTexSubImage3D(v,a,f,p,m,o,s,c,g,h.data):z.texSubImage3D(v,a,f,p,m,o,s,c,g,_,h):e.isDataTexture?z.texSubImage2D(z.TEXTURE_2D,a,f,p,o,s,g,_,h.data):e.isCompressedTexture?z.compressedTexSubImage2D(z.TEXTURE_2D,a,f,p,h.width,h.height,g,h.data):z.texSubImage2D(z.TEXTURE_2D,a,f,p,o,s,g,_,h);H.pixelStorei(z.UNPACK_ROW_LENGTH,y),H.pixelStorei(z.UNPACK_IMAGE_HEIGHT,b),H.pixelStorei(z.UNPACK_SKIP_PIXELS,x),H.pixelStorei(z.UNPACK_SKIP_ROWS,S),H.pixelStorei(z.UNPACK_SKIP_IMAGES,C),a===0&&t.generateMipmaps===!0&&t.mipmapsAutoUpdate===!0&&z.generateMipmap(v),H.unbindTexture()},this.initRenderTarget=function(e){U.get(e).__webglFramebuffer===void 0&&Se.setupRenderTarget(e)},this.initTexture=function(e){e.isCubeTexture?Se.setTextureCube(e,0):e.isData3DTexture?Se.setTexture3D(e,0):e.isDataArrayTexture||e.isCompressedArrayTexture?Se.setTexture2DArray(e,0):Se.setTexture2D(e,0),H.unbindTexture()},this.resetState=function(){j=0,M=0,N=null,H.reset(),Le.reset()},typeof __THREE_DEVTOOLS__<`u`&&__THREE_DEVTOOLS__.dispatchEvent(new CustomEvent(`observe`,{detail:this}))}get coordinateSystem(){return ha}get outputColorSpace(){return this._outputColorSpace}set outputColorSpace(e){this._outputColorSpace=e;let t=this.getContext();t.drawingBufferColorSpace=uo._getDrawingBufferColorSpace(e),t.unpackColorSpace=uo._getUnpackColorSpace()}},oh={type:`change`},sh={type:`start`},ch={type:`end`},lh=new bc,uh=new pc,dh=Math.cos(70*to.DEG2RAD),fh=new Q,ph=2*Math.PI,mh={NONE:-1,ROTATE:0,DOLLY:1,PAN:2,TOUCH_ROTATE:3,TOUCH_PAN:4,TOUCH_DOLLY_PAN:5,TOUCH_DOLLY_ROTATE:6},hh=1e-6,gh=class extends Gd{constructor(e,t=null){super(e,t),this.state=mh.NONE,this.target=new Q,this.cursor=new Q,this.minDistance=0,this.maxDistance=1/0,this.minZoom=0,this.maxZoom=1/0,this.minTargetRadius=0,this.maxTargetRadius=1/0,this.minPolarAngle=0,this.maxPolarAngle=Math.PI,this.minAzimuthAngle=-1/0,this.maxAzimuthAngle=1/0,this.enableDamping=!1,this.dampingFactor=.05,this.enableZoom=!0,this.zoomSpeed=1,this.enableRotate=!0,this.rotateSpeed=1,this.keyRotateSpeed=1,this.enablePan=!0,this.panSpeed=1,this.screenSpacePanning=!0,this.keyPanSpeed=7,this.zoomToCursor=!1,this.autoRotate=!1,this.autoRotateSpeed=2,this.keys={LEFT:`ArrowLeft`,UP:`ArrowUp`,RIGHT:`ArrowRight`,BOTTOM:`ArrowDown`},this.mouseButtons={LEFT:zr.ROTATE,MIDDLE:zr.DOLLY,RIGHT:zr.PAN},this.touches={ONE:Br.ROTATE,TWO:Br.DOLLY_PAN},this.target0=this.target.clone(),this.position0=this.object.position.clone(),this.zoom0=this.object.zoom,this._cursorStyle=`auto`,this._domElementKeyEvents=null,this._lastPosition=new Q,this._lastQuaternion=new no,this._lastTargetPosition=new Q,this._quat=new no().setFromUnitVectors(e.up,new Q(0,1,0)),this._quatInverse=this._quat.clone().invert(),this._spherical=new Wd,this._sphericalDelta=new Wd,this._scale=1,this._panOffset=new Q,this._rotateStart=new Z,this._rotateEnd=new Z,this._rotateDelta=new Z,this._panStart=new Z,this._panEnd=new Z,this._panDelta=new Z,this._dollyStart=new Z,this._dollyEnd=new Z,this._dollyDelta=new Z,this._dollyDirection=new Q,this._mouse=new Z,this._performCursorZoom=!1,this._pointers=[],this._pointerPositions={},this._controlActive=!1,this._onPointerMove=vh.bind(this),this._onPointerDown=_h.bind(this),this._onPointerUp=yh.bind(this),this._onContextMenu=Eh.bind(this),this._onMouseWheel=Sh.bind(this),this._onKeyDown=Ch.bind(this),this._onTouchStart=wh.bind(this),this._onTouchMove=Th.bind(this),this._onMouseDown=bh.bind(this),this._onMouseMove=xh.bind(this),this._interceptControlDown=Dh.bind(this),this._interceptControlUp=Oh.bind(this),this.domElement!==null&&this.connect(this.domElement),this.update()}set cursorStyle(e){this._cursorStyle=e,e===`grab`?this.domElement.style.cursor=`grab`:this.domElement.style.cursor=`auto`}get cursorStyle(){return this._cursorStyle}connect(e){super.connect(e),this.domElement.addEventListener(`pointerdown`,this._onPointerDown),this.domElement.addEventListener(`pointercancel`,this._onPointerUp),this.domElement.addEventListener(`contextmenu`,this._onContextMenu),this.domElement.addEventListener(`wheel`,this._onMouseWheel,{passive:!1}),this.domElement.ownerDocument.addEventListener(`keydown`,this._interceptControlDown,{passive:!0,capture:!0}),this.domElement.style.touchAction=`none`}disconnect(){this.state=mh.NONE,this.domElement.removeEventListener(`pointerdown`,this._onPointerDown),this.domElement.ownerDocument.removeEventListener(`pointermove`,this._onPointerMove),this.domElement.ownerDocument.removeEventListener(`pointerup`,this._onPointerUp),this.domElement.removeEventListener(`pointercancel`,this._onPointerUp),this.domElement.removeEventListener(`wheel`,this._onMouseWheel),this.domElement.removeEventListener(`contextmenu`,this._onContextMenu),this.stopListenToKeyEvents(),this.domElement.ownerDocument.removeEventListener(`keydown`,this._interceptControlDown,{capture:!0}),this.domElement.ownerDocument.removeEventListener(`keyup`,this._interceptControlUp,{capture:!0}),this._controlActive=!1,this._pointers.length=0,this._pointerPositions={},this.domElement.style.touchAction=``,this.domElement.style.cursor=`auto`}dispose(){this.disconnect()}getPolarAngle(){return this._spherical.phi}getAzimuthalAngle(){return this._spherical.theta}getDistance(){return this.object.position.distanceTo(this.target)}listenToKeyEvents(e){e.addEventListener(`keydown`,this._onKeyDown),this._domElementKeyEvents=e}stopListenToKeyEvents(){this._domElementKeyEvents!==null&&(this._domElementKeyEvents.removeEventListener(`keydown`,this._onKeyDown),this._domElementKeyEvents=null)}saveState(){this.target0.copy(this.target),this.position0.copy(this.object.position),this.zoom0=this.object.zoom}reset(){this.target.copy(this.target0),this.object.position.copy(this.position0),this.object.zoom=this.zoom0,this.object.updateProjectionMatrix(),this.dispatchEvent(oh),this.update(),this.state=mh.NONE}pan(e,t){this._pan(e,t),this.update()}dollyIn(e){this._dollyIn(e),this.update()}dollyOut(e){this._dollyOut(e),this.update()}rotateLeft(e){this._rotateLeft(e),this.update()}rotateUp(e){this._rotateUp(e),this.update()}update(e=null){let t=this.object.position;fh.copy(t).sub(this.target),fh.applyQuaternion(this._quat),this._spherical.setFromVector3(fh),this.autoRotate&&this.state===mh.NONE&&this._rotateLeft(this._getAutoRotationAngle(e)),this.enableDamping?(this._spherical.theta+=this._sphericalDelta.theta*this.dampingFactor,this._spherical.phi+=this._sphericalDelta.phi*this.dampingFactor):(this._spherical.theta+=this._sphericalDelta.theta,this._spherical.phi+=this._sphericalDelta.phi);let n=this.minAzimuthAngle,r=this.maxAzimuthAngle;isFinite(n)&&isFinite(r)&&(n<-Math.PI?n+=ph:n>Math.PI&&(n-=ph),r<-Math.PI?r+=ph:r>Math.PI&&(r-=ph),n<=r?this._spherical.theta=Math.max(n,Math.min(r,this._spherical.theta)):this._spherical.theta=this._spherical.theta>(n+r)/2?Math.max(n,this._spherical.theta):Math.min(r,this._spherical.theta)),this._spherical.phi=Math.max(this.minPolarAngle,Math.min(this.maxPolarAngle,this._spherical.phi)),this._spherical.makeSafe(),this.enableDamping===!0?this.target.addScaledVector(this._panOffset,this.dampingFactor):this.target.add(this._panOffset),this.target.sub(this.cursor),this.target.clampLength(this.minTargetRadius,this.maxTargetRadius),this.target.add(this.cursor);let i=!1;if(this.zoomToCursor&&this._performCursorZoom||this.object.isOrthographicCamera)this._spherical.radius=this._clampDistance(this._spherical.radius);else{let e=this._spherical.radius;this._spherical.radius=this._clampDistance(this._spherical.radius*this._scale),i=e!=this._spherical.radius}if(fh.setFromSpherical(this._spherical),fh.applyQuaternion(this._quatInverse),t.copy(this.target).add(fh),this.object.lookAt(this.target),this.enableDamping===!0?(this._sphericalDelta.theta*=1-this.dampingFactor,this._sphericalDelta.phi*=1-this.dampingFactor,this._panOffset.multiplyScalar(1-this.dampingFactor)):(this._sphericalDelta.set(0,0,0),this._panOffset.set(0,0,0)),this.zoomToCursor&&this._performCursorZoom){let e=null;if(this.object.isPerspectiveCamera){let t=fh.length();e=this._clampDistance(t*this._scale);let n=t-e;this.object.position.addScaledVector(this._dollyDirection,n),this.object.updateMatrixWorld(),i=!!n}else if(this.object.isOrthographicCamera){let t=new Q(this._mouse.x,this._mouse.y,0);t.unproject(this.object);let n=this.object.zoom;this.object.zoom=Math.max(this.minZoom,Math.min(this.maxZoom,this.object.zoom/this._scale)),this.object.updateProjectionMatrix(),i=n!==this.object.zoom;let r=new Q(this._mouse.x,this._mouse.y,0);r.unproject(this.object),this.object.position.sub(r).add(t),this.object.updateMatrixWorld(),e=fh.length()}else console.warn(`WARNING: OrbitControls.js encountered an unknown camera type - zoom to cursor disabled.`),this.zoomToCursor=!1;e!==null&&(this.screenSpacePanning?this.target.set(0,0,-1).transformDirection(this.object.matrix).multiplyScalar(e).add(this.object.position):(lh.origin.copy(this.object.position),lh.direction.set(0,0,-1).transformDirection(this.object.matrix),Math.abs(this.object.up.dot(lh.direction))<dh?this.object.lookAt(this.target):(uh.setFromNormalAndCoplanarPoint(this.object.up,this.target),lh.intersectPlane(uh,this.target))))}else if(this.object.isOrthographicCamera){let e=this.object.zoom;this.object.zoom=Math.max(this.minZoom,Math.min(this.maxZoom,this.object.zoom/this._scale)),e!==this.object.zoom&&(this.object.updateProjectionMatrix(),i=!0)}return this._scale=1,this._performCursorZoom=!1,i||this._lastPosition.distanceToSquared(this.object.position)>hh||8*(1-this._lastQuaternion.dot(this.object.quaternion))>hh||this._lastTargetPosition.distanceToSquared(this.target)>hh?(this.dispatchEvent(oh),this._lastPosition.copy(this.object.position),this._lastQuaternion.copy(this.object.quaternion),this._lastTargetPosition.copy(this.target),!0):!1}_getAutoRotationAngle(e){return e===null?ph/60/60*this.autoRotateSpeed:ph/60*this.autoRotateSpeed*e}_getZoomScale(e){let t=Math.abs(e*.01);return .95**(this.zoomSpeed*t)}_rotateLeft(e){this._sphericalDelta.theta-=e}_rotateUp(e){this._sphericalDelta.phi-=e}_panLeft(e,t){fh.setFromMatrixColumn(t,0),fh.multiplyScalar(-e),this._panOffset.add(fh)}_panUp(e,t){this.screenSpacePanning===!0?fh.setFromMatrixColumn(t,1):(fh.setFromMatrixColumn(t,0),fh.crossVectors(this.object.up,fh)),fh.multiplyScalar(e),this._panOffset.add(fh)}_pan(e,t){let n=this.domElement;if(this.object.isPerspectiveCamera){let r=this.object.position;fh.copy(r).sub(this.target);let i=fh.length();i*=Math.tan(this.object.fov/2*Math.PI/180),this._panLeft(2*e*i/n.clientHeight,this.object.matrix),this._panUp(2*t*i/n.clientHeight,this.object.matrix)}else this.object.isOrthographicCamera?(this._panLeft(e*(this.object.right-this.object.left)/this.object.zoom/n.clientWidth,this.object.matrix),this._panUp(t*(this.object.top-this.object.bottom)/this.object.zoom/n.clientHeight,this.object.matrix)):(console.warn(`WARNING: OrbitControls.js encountered an unknown camera type - pan disabled.`),this.enablePan=!1)}_dollyOut(e){this.object.isPerspectiveCamera||this.object.isOrthographicCamera?this._scale/=e:(console.warn(`WARNING: OrbitControls.js encountered an unknown camera type - dolly/zoom disabled.`),this.enableZoom=!1)}_dollyIn(e){this.object.isPerspectiveCamera||this.object.isOrthographicCamera?this._scale*=e:(console.warn(`WARNING: OrbitControls.js encountered an unknown camera type - dolly/zoom disabled.`),this.enableZoom=!1)}_updateZoomParameters(e,t){if(!this.zoomToCursor)return;this._performCursorZoom=!0;let n=this.domElement.getBoundingClientRect(),r=e-n.left,i=t-n.top,a=n.width,o=n.height;this._mouse.x=r/a*2-1,this._mouse.y=-(i/o)*2+1,this._dollyDirection.set(this._mouse.x,this._mouse.y,1).unproject(this.object).sub(this.object.position).normalize()}_clampDistance(e){return Math.max(this.minDistance,Math.min(this.maxDistance,e))}_handleMouseDownRotate(e){this._rotateStart.set(e.clientX,e.clientY)}_handleMouseDownDolly(e){this._updateZoomParameters(e.clientX,e.clientY),this._dollyStart.set(e.clientX,e.clientY)}_handleMouseDownPan(e){this._panStart.set(e.clientX,e.clientY)}_handleMouseMoveRotate(e){this._rotateEnd.set(e.clientX,e.clientY),this._rotateDelta.subVectors(this._rotateEnd,this._rotateStart).multiplyScalar(this.rotateSpeed);let t=this.domElement;this._rotateLeft(ph*this._rotateDelta.x/t.clientHeight),this._rotateUp(ph*this._rotateDelta.y/t.clientHeight),this._rotateStart.copy(this._rotateEnd),this.update()}_handleMouseMoveDolly(e){this._dollyEnd.set(e.clientX,e.clientY),this._dollyDelta.subVectors(this._dollyEnd,this._dollyStart),this._dollyDelta.y>0?this._dollyOut(this._getZoomScale(this._dollyDelta.y)):this._dollyDelta.y<0&&this._dollyIn(this._getZoomScale(this._dollyDelta.y)),this._dollyStart.copy(this._dollyEnd),this.zoomToCursor&&(this._performCursorZoom=!0,this._dollyDirection.set(this._mouse.x,this._mouse.y,1).unproject(this.object).sub(this.object.position).normalize()),this.update()}_handleMouseMovePan(e){this._panEnd.set(e.clientX,e.clientY),this._panDelta.subVectors(this._panEnd,this._panStart).multiplyScalar(this.panSpeed),this._pan(this._panDelta.x,this._panDelta.y),this._panStart.copy(this._panEnd),this.update()}_handleMouseWheel(e){this._updateZoomParameters(e.clientX,e.clientY),e.deltaY<0?this._dollyIn(this._getZoomScale(e.deltaY)):e.deltaY>0&&this._dollyOut(this._getZoomScale(e.deltaY)),this.update()}_handleKeyDown(e){let t=!1;switch(e.code){case this.keys.UP:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateUp(ph*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(0,this.keyPanSpeed),t=!0;break;case this.keys.BOTTOM:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateUp(-ph*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(0,-this.keyPanSpeed),t=!0;break;case this.keys.LEFT:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateLeft(ph*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(this.keyPanSpeed,0),t=!0;break;case this.keys.RIGHT:e.ctrlKey||e.metaKey||e.shiftKey?this.enableRotate&&this._rotateLeft(-ph*this.keyRotateSpeed/this.domElement.clientHeight):this.enablePan&&this._pan(-this.keyPanSpeed,0),t=!0}t&&(e.preventDefault(),this.update())}_handleTouchStartRotate(e){if(this._pointers.length===1)this._rotateStart.set(e.pageX,e.pageY);else{let t=this._getSecondPointerPosition(e),n=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._rotateStart.set(n,r)}}_handleTouchStartPan(e){if(this._pointers.length===1)this._panStart.set(e.pageX,e.pageY);else{let t=this._getSecondPointerPosition(e),n=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._panStart.set(n,r)}}_handleTouchStartDolly(e){let t=this._getSecondPointerPosition(e),n=e.pageX-t.x,r=e.pageY-t.y,i=Math.sqrt(n*n+r*r);this._dollyStart.set(0,i)}_handleTouchStartDollyPan(e){this.enableZoom&&this._handleTouchStartDolly(e),this.enablePan&&this._handleTouchStartPan(e)}_handleTouchStartDollyRotate(e){this.enableZoom&&this._handleTouchStartDolly(e),this.enableRotate&&this._handleTouchStartRotate(e)}_handleTouchMoveRotate(e){if(this._pointers.length==1)this._rotateEnd.set(e.pageX,e.pageY);else{let t=this._getSecondPointerPosition(e),n=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._rotateEnd.set(n,r)}this._rotateDelta.subVectors(this._rotateEnd,this._rotateStart).multiplyScalar(this.rotateSpeed);let t=this.domElement;this._rotateLeft(ph*this._rotateDelta.x/t.clientHeight),this._rotateUp(ph*this._rotateDelta.y/t.clientHeight),this._rotateStart.copy(this._rotateEnd)}_handleTouchMovePan(e){if(this._pointers.length===1)this._panEnd.set(e.pageX,e.pageY);else{let t=this._getSecondPointerPosition(e),n=.5*(e.pageX+t.x),r=.5*(e.pageY+t.y);this._panEnd.set(n,r)}this._panDelta.subVectors(this._panEnd,this._panStart).multiplyScalar(this.panSpeed),this._pan(this._panDelta.x,this._panDelta.y),this._panStart.copy(this._panEnd)}_handleTouchMoveDolly(e){let t=this._getSecondPointerPosition(e),n=e.pageX-t.x,r=e.pageY-t.y,i=Math.sqrt(n*n+r*r);this._dollyEnd.set(0,i),this._dollyDelta.set(0,(this._dollyEnd.y/this._dollyStart.y)**+this.zoomSpeed),this._dollyOut(this._dollyDelta.y),this._dollyStart.copy(this._dollyEnd);let a=(e.pageX+t.x)*.5,o=(e.pageY+t.y)*.5;this._updateZoomParameters(a,o)}_handleTouchMoveDollyPan(e){this.enableZoom&&this._handleTouchMoveDolly(e),this.enablePan&&this._handleTouchMovePan(e)}_handleTouchMoveDollyRotate(e){this.enableZoom&&this._handleTouchMoveDolly(e),this.enableRotate&&this._handleTouchMoveRotate(e)}_addPointer(e){this._pointers.push(e.pointerId)}_removePointer(e){delete this._pointerPositions[e.pointerId];for(let t=0;t<this._pointers.length;t++)if(this._pointers[t]==e.pointerId){this._pointers.splice(t,1);return}}_isTrackingPointer(e){for(let t=0;t<this._pointers.length;t++)if(this._pointers[t]==e.pointerId)return!0;return!1}_trackPointer(e){let t=this._pointerPositions[e.pointerId];t===void 0&&(t=new Z,this._pointerPositions[e.pointerId]=t),t.set(e.pageX,e.pageY)}_getSecondPointerPosition(e){let t=e.pointerId===this._pointers[0]?this._pointers[1]:this._pointers[0];return this._pointerPositions[t]}_customWheelEvent(e){let t=e.deltaMode,n={clientX:e.clientX,clientY:e.clientY,deltaY:e.deltaY};switch(t){case 1:n.deltaY*=16;break;case 2:n.deltaY*=100}return e.ctrlKey&&!this._controlActive&&(n.deltaY*=10),n}};function _h(e){this.enabled!==!1&&(this._pointers.length===0&&(this.domElement.setPointerCapture(e.pointerId),this.domElement.ownerDocument.addEventListener(`pointermove`,this._onPointerMove),this.domElement.ownerDocument.addEventListener(`pointerup`,this._onPointerUp)),this._isTrackingPointer(e)||(this._addPointer(e),e.pointerType===`touch`?this._onTouchStart(e):this._onMouseDown(e),this._cursorStyle===`grab`&&(this.domElement.style.cursor=`grabbing`)))}function vh(e){this.enabled!==!1&&(e.pointerType===`touch`?this._onTouchMove(e):this._onMouseMove(e))}function yh(e){switch(this._removePointer(e),this._pointers.length){case 0:this.domElement.releasePointerCapture(e.pointerId),this.domElement.ownerDocument.removeEventListener(`pointermove`,this._onPointerMove),this.domElement.ownerDocument.removeEventListener(`pointerup`,this._onPointerUp),this.dispatchEvent(ch),this.state=mh.NONE,this._cursorStyle===`grab`&&(this.domElement.style.cursor=`grab`);break;case 1:let t=this._pointers[0],n=this._pointerPositions[t];this._onTouchStart({pointerId:t,pageX:n.x,pageY:n.y})}}function bh(e){let t;switch(e.button){case 0:t=this.mouseButtons.LEFT;break;case 1:t=this.mouseButtons.MIDDLE;break;case 2:t=this.mouseButtons.RIGHT;break;default:t=-1}switch(t){case zr.DOLLY:if(this.enableZoom===!1)return;this._handleMouseDownDolly(e),this.state=mh.DOLLY;break;case zr.ROTATE:if(e.ctrlKey||e.metaKey||e.shiftKey){if(this.enablePan===!1)return;this._handleMouseDownPan(e),this.state=mh.PAN}else{if(this.enableRotate===!1)return;this._handleMouseDownRotate(e),this.state=mh.ROTATE}break;case zr.PAN:if(e.ctrlKey||e.metaKey||e.shiftKey){if(this.enableRotate===!1)return;this._handleMouseDownRotate(e),this.state=mh.ROTATE}else{if(this.enablePan===!1)return;this._handleMouseDownPan(e),this.state=mh.PAN}break;default:this.state=mh.NONE}this.state!==mh.NONE&&this.dispatchEvent(sh)}function xh(e){switch(this.state){case mh.ROTATE:if(this.enableRotate===!1)return;this._handleMouseMoveRotate(e);break;case mh.DOLLY:if(this.enableZoom===!1)return;this._handleMouseMoveDolly(e);break;case mh.PAN:if(this.enablePan===!1)return;this._handleMouseMovePan(e)}}function Sh(e){this.enabled!==!1&&this.enableZoom!==!1&&this.state===mh.NONE&&(e.preventDefault(),this.dispatchEvent(sh),this._handleMouseWheel(this._customWheelEvent(e)),this.dispatchEvent(ch))}function Ch(e){this.enabled!==!1&&this._handleKeyDown(e)}function wh(e){switch(this._trackPointer(e),this._pointers.length){case 1:switch(this.touches.ONE){case Br.ROTATE:if(this.enableRotate===!1){this.state=mh.NONE;break}this._handleTouchStartRotate(e),this.state=mh.TOUCH_ROTATE;break;case Br.PAN:if(this.enablePan===!1){this.state=mh.NONE;break}this._handleTouchStartPan(e),this.state=mh.TOUCH_PAN;break;default:this.state=mh.NONE}break;case 2:switch(this.touches.TWO){case Br.DOLLY_PAN:if(this.enableZoom===!1&&this.enablePan===!1)return;this._handleTouchStartDollyPan(e),this.state=mh.TOUCH_DOLLY_PAN;break;case Br.DOLLY_ROTATE:if(this.enableZoom===!1&&this.enableRotate===!1)return;this._handleTouchStartDollyRotate(e),this.state=mh.TOUCH_DOLLY_ROTATE;break;default:this.state=mh.NONE}break;default:this.state=mh.NONE}this.state!==mh.NONE&&this.dispatchEvent(sh)}function Th(e){switch(this._trackPointer(e),this.state){case mh.TOUCH_ROTATE:if(this.enableRotate===!1)return;this._handleTouchMoveRotate(e),this.update();break;case mh.TOUCH_PAN:if(this.enablePan===!1)return;this._handleTouchMovePan(e),this.update();break;case mh.TOUCH_DOLLY_PAN:if(this.enableZoom===!1&&this.enablePan===!1)return;this._handleTouchMoveDollyPan(e),this.update();break;case mh.TOUCH_DOLLY_ROTATE:if(this.enableZoom===!1&&this.enableRotate===!1)return;this._handleTouchMoveDollyRotate(e),this.update();break;default:this.state=mh.NONE}}function Eh(e){this.enabled!==!1&&e.preventDefault()}function Dh(e){e.key===`Control`&&(this._controlActive=!0,this.domElement.ownerDocument.addEventListener(`keyup`,this._interceptControlUp,{passive:!0,capture:!0}))}function Oh(e){e.key===`Control`&&(this._controlActive=!1,this.domElement.ownerDocument.removeEventListener(`keyup`,this._interceptControlUp,{passive:!0,capture:!0}))}uo.enabled=!1;var kh=1e3,Ah={magnet:[`#c8663b`,`#d9794e`],steel:[`#74828f`,`#8796a3`],wound:[`#a5852f`,`#c09a35`],spacer:[`#b3c6bf`,`#5f766e`],coil:[`#8f5a9c`,`#b07fbd`]},jh=class{host;colours;canvas;frames=0;onPick=()=>{};onHover=()=>{};onFrame=()=>{};renderer;scene=new us;still=new wo(1,1,{samples:4});copy=new us;map=null;bakedMap=new wo(1,1,{depthBuffer:!1});coarse=new Gu({side:2,transparent:!0,uniforms:{map:{value:this.bakedMap.texture}},vertexShader:`varying vec2 at; void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,fragmentShader:`uniform sampler2D map; varying vec2 at; void main() { gl_FragColor = texture2D(map, at); }`});camera=new Sd(35,1,1,1e6);controls;laid={parts:new ts,map:new ts,outlines:new ts,fence:new ts,rules:new ts,marks:new ts};ratio={value:1};fade={value:1};clip={value:new So(0,0,0,1)};bodies=[];region=[];anew=!1;faces=null;ranges=[];palette;wanted=!1;box=new Ts(new Q(-50,-50,-50),new Q(50,50,50));seen=null;dark=!1;gone=new AbortController;constructor(e,t){this.host=e,this.colours=t,this.renderer=new ah({antialias:!1,alpha:!1}),this.renderer.outputColorSpace=ua,Rh(this.renderer.getContext())&&(this.sharpness=.5),this.canvas=this.renderer.domElement,e.prepend(this.canvas),this.canvas.tabIndex=0,this.canvas.setAttribute(`role`,`img`),this.camera.up.set(0,0,1),this.controls=new gh(this.camera,this.canvas),this.controls.addEventListener(`change`,()=>this.draw(!0)),this.scene.add(...Object.values(this.laid)),this.copy.add(new Nc(new Iu(2,2),new Gu({depthTest:!1,depthWrite:!1,uniforms:{still:{value:this.still.texture}},vertexShader:`varying vec2 at; void main() { at = uv; gl_Position = vec4(position.xy, 0.0, 1.0); }`,fragmentShader:`uniform sampler2D still; varying vec2 at; void main() { gl_FragColor = vec4(texture2D(still, at).rgb, 1.0); }`}))),this.copy.children[0].frustumCulled=!1,this.scene.matrixWorldAutoUpdate=!1;let n=new Uint8Array(t.length*4);t.forEach((e,t)=>n.set([e[0],e[1],e[2],255],4*t)),this.palette=new Ic(n,t.length,1,di,Xr),this.palette.magFilter=this.palette.minFilter=qr,this.palette.needsUpdate=!0;let r=new ResizeObserver(()=>this.resize());r.observe(e);let i=matchMedia(`(prefers-color-scheme: dark)`),a=()=>{this.dark=i.matches,this.renderer.setClearColor(this.dark?`#14181d`:`#f7f6f3`)};a();let o={signal:this.gone.signal};i.addEventListener(`change`,()=>{a();let e=this.seen;this.seen=null,e&&this.show(e)},o),this.gone.signal.addEventListener(`abort`,()=>r.disconnect()),this.listen(o),this.resize(),this.look([1,-.75,.55])}listen(e){let t=new Z;this.canvas.addEventListener(`pointerdown`,e=>t=new Z(e.clientX,e.clientY),e),this.canvas.addEventListener(`pointerup`,e=>{if(t.distanceTo(new Z(e.clientX,e.clientY))>4||e.button!==0)return;let n=this.ray(e),r=this.body(n),i=this.seen?.gap,a=i&&n.ray.intersectBox(new Ts(Vh(i[0]),Vh(i[1])),new Q);a&&(!r||a.distanceTo(n.ray.origin)<r.distance)?this.onPick(null,!0):this.onPick(r?.name??null,!1)},e),this.canvas.addEventListener(`pointermove`,e=>this.onHover(e.buttons===0?this.reading(e):null),e),this.canvas.addEventListener(`pointerleave`,()=>this.onHover(null),e),this.canvas.addEventListener(`keydown`,e=>{let t={ArrowLeft:[-1,0],ArrowRight:[1,0],ArrowUp:[0,1],ArrowDown:[0,-1]}[e.key];t?(e.preventDefault(),this.turn(t[0]*.1,t[1]*.1)):(e.key===`+`||e.key===`-`)&&this.zoom(e.key===`+`?.9:1/.9)},e)}ray(e){let t=this.canvas.getBoundingClientRect(),n=new Vd;return n.setFromCamera(new Z(2*(e.clientX-t.left)/t.width-1,1-2*(e.clientY-t.top)/t.height),this.camera),n}body(e){if(!this.faces)return null;let t=this.clip.value,n=new Q(t.x,t.y,t.z),r=e.intersectObject(this.faces).find(e=>n.dot(e.point)+t.w>=0),i=r&&this.ranges.find(e=>r.faceIndex<e.end);return r&&i?{...i,distance:r.distance,point:r.point,face:r.faceIndex}:null}reading(e){let t=this.ray(e),n=this.seen,r=this.canvas.getBoundingClientRect(),i={x:e.clientX-r.left,y:e.clientY-r.top},a=n?.marks?.findLastIndex(e=>{let t=this.project(e.at);return t!==null&&Math.hypot(t.x-i.x,t.y-i.y)<e.radius+2});if(a!==void 0&&a>=0)return{...i,mark:a,b:0,place:n.marks[a].at};let o=n?.map,s=o&&t.ray.intersectPlane(new pc(Hh(o.plane.axis),-o.plane.at_m*kh),new Q),c=n?.steel?this.body(t):null;if(c?.steel&&(!s||c.distance<s.distanceTo(t.ray.origin))){let e=this.ranges[this.ranges.findIndex(e=>e.name===c.name)-1]?.end??0,t=c.steel.triangles[c.face-e],n=e=>Math.hypot(c.steel.corners_mm[3*e]-c.point.x,c.steel.corners_mm[3*e+1]-c.point.y,c.steel.corners_mm[3*e+2]-c.point.z),r=t.reduce((e,t)=>n(t)<n(e)?t:e),a=c.steel.b_T[r];return{...i,b:a,share:a/c.steel.saturation_T,of:c.name,place:[0,1,2].map(e=>c.steel.corners_mm[3*r+e]/kh)}}if(!s)return null;let l=[s.x/kh,s.y/kh,s.z/kh],u=Math.round((l[o.across]-o.corner_m[0])/o.step_m),d=Math.round((l[o.up]-o.corner_m[1])/o.step_m);if(u<0||d<0||u>=o.columns||d>=o.rows)return null;let f=3*(d*o.columns+u);return l[o.plane.axis]=o.plane.at_m,l[o.across]=o.corner_m[0]+u*o.step_m,l[o.up]=o.corner_m[1]+d*o.step_m,{...i,b:Math.hypot(o.b_T[f],o.b_T[f+1],o.b_T[f+2]),place:l}}project(e){let t=Vh(e).project(this.camera);return t.z>1?null:{x:(t.x+1)/2*this.host.clientWidth,y:(1-t.y)/2*this.host.clientHeight}}turn(e,t){let n=this.controls.target,r=this.camera.position.sub(n),i=r.length(),a=Math.atan2(r.y,r.x)+e,o=Math.min(1.55,Math.max(-1.55,Math.asin(r.z/i)+t));this.camera.position.set(n.x+i*Math.cos(o)*Math.cos(a),n.y+i*Math.cos(o)*Math.sin(a),n.z+i*Math.sin(o)),this.controls.update(),this.draw(!0)}zoom(e){let t=this.controls.target;this.camera.position.sub(t).multiplyScalar(e).add(t),this.controls.update(),this.draw(!0)}look(e){let t=this.box.getCenter(new Q),n=Math.max(1,this.box.getSize(new Q).length()/2),r=this.camera.fov*Math.PI/360,i=n*1.12/Math.sin(Math.atan(Math.tan(r)*Math.min(1,this.camera.aspect)));this.controls.target.copy(t),this.camera.position.copy(t).add(new Q(...e).normalize().multiplyScalar(i)),this.camera.near=i/200,this.camera.far=i*40,this.camera.updateProjectionMatrix(),this.controls.update(),this.draw(!1)}resize(){let e=Math.max(1,this.host.clientWidth),t=Math.max(1,this.host.clientHeight);this.renderer.setPixelRatio(this.ratio.value=Math.min(2,devicePixelRatio)*this.shown),this.renderer.setSize(e,t),this.camera.aspect=e/t,this.camera.updateProjectionMatrix(),this.draw(!1)}sharpness=1;shown=1;drawn=0;moving=!1;count=0;good=0;tried=!1;patience=2;since=0;run=0;missed=0;rest;draw(e){clearTimeout(this.rest),this.moving||=e,this.wanted||(this.wanted=!0,requestAnimationFrame(e=>{this.wanted=!1,this.gone.signal.aborted||(this.frames++,this.moving&&e-this.drawn<1e3?this.pace(e):this.count=0,this.drawn=e,this.showMap(this.moving&&this.sharpness<1),this.moving=!1,this.camera.updateMatrixWorld(),this.renderer.render(this.scene,this.camera),this.onFrame(),this.rest=setTimeout(()=>this.renderSmooth(),250))}))}wait(){clearTimeout(this.rest)}renderSmooth(){this.sharpen(1),this.showMap(!1),this.frames++;let e=this.renderer.getDrawingBufferSize(new Z);if(e.x*e.y>5e6)return this.renderer.render(this.scene,this.camera);(this.still.width!==e.x||this.still.height!==e.y)&&this.still.setSize(e.x,e.y),this.renderer.setRenderTarget(this.still),this.renderer.render(this.scene,this.camera),this.renderer.setRenderTarget(null),this.renderer.render(this.copy,this.camera),this.sharpness<1&&this.bakeMap()}showMap(e){this.map&&(e&&this.bakeMap(),this.map.plane.material=e?this.coarse:this.map.exact)}bakeMap(){let e=this.map;if(!e||e.baked)return;e.baked=!0;let t=new Nc(new Iu(2,2),e.exact);this.bakedMap.setSize(6*e.columns,6*e.rows),e.exact.blending=0,this.renderer.setRenderTarget(this.bakedMap),this.renderer.render(t,new Cd(-1,1,1,-1,-1,1)),this.renderer.setRenderTarget(null),e.exact.blending=1,t.geometry.dispose()}pace(e){if(this.count++<2){this.since=e,this.sharpen(this.sharpness);return}let t=this.count-2,n=e-this.since,r=n/t;e-this.drawn>25&&this.missed++,++this.run>64&&(this.run=this.missed=0);let i=this.missed>2;if(!i&&t<8&&(t<3||n<160))return;let a=i||r>20;a&&((i||this.tried)&&(this.patience=Math.min(64,8*this.patience)),this.sharpness=Math.max(.4,Math.min(.85,Math.sqrt(1e3/60/r))*this.sharpness),this.run=this.missed=0),this.tried=r<18&&this.sharpness<1&&++this.good>=this.patience,this.tried&&(this.sharpness=Math.min(1,1.25*this.sharpness)),(this.tried||a)&&(this.good=0),this.count=1}sharpen(e){e!==this.shown&&(this.shown=e,this.renderer.setPixelRatio(this.ratio.value=Math.min(2,devicePixelRatio)*e),this.canvas.style.imageRendering=e<1?`pixelated`:``)}build(e,t){let n=e.meshes.map(e=>{let t=new lc;return t.setAttribute(`position`,new Js(new Float32Array(e.corners_mm),3)),{corners:t.getAttribute(`position`),rims:new vl(t,25).getAttribute(`position`)}});this.bodies=e.parts.filter(e=>e.mesh>=0).map(e=>{let t=e.rotation,r=e.center_m,i=n[e.mesh],a=new Do().set(t[0][0],t[0][1],t[0][2],r[0]*kh,t[1][0],t[1][1],t[1][2],r[1]*kh,t[2][0],t[2][1],t[2][2],r[2]*kh,0,0,0,1),o=e=>e.clone().applyMatrix4(a).array;return{name:e.name,kind:e.kind,corners:o(i.corners),rims:o(i.rims),pole:e.magnetized?Kh(e):[]}}),e.box&&(this.box=new Ts(Vh(e.box.min_m),Vh(e.box.max_m))),t&&this.look([1,-.75,.55]),this.region=e.region?Uh(e.region):[],this.anew=!0,this.seen&&this.show(this.seen)}show(e){let t=this.seen,n=(...n)=>!t||n.some(n=>t[n]!==e[n]);this.seen=e;let r=this.clip.value.set(0,0,0,1);e.cut&&r.setComponent(e.cut.axis,-1).setW(e.cut.at*kh+.001);let i=this.anew||n(`hidden`,`picked`,`steel`)||!!e.steel&&n(`stale`);if(this.anew=!1,i&&this.layParts(e),this.fade.value=e.stale?.35:1,this.map&&n(`stale`)&&(this.map.baked=!1),n(`map`,`mapTop`,`lines`,`flow`)&&(this.showMap(!1),Bh(this.laid.map),this.map=null,e.map&&this.layMap(e.map,e)),i||n(`map`)){Bh(this.laid.outlines);let t=new Mh,n=new cs(`#ffffff`);if(e.map)for(let r of this.bodies)e.hidden.has(r.name)||t.add(Wh(r.corners,e.map.plane.axis,e.map.plane.at_m*kh,.05),n);e.map&&this.laid.outlines.add(zh(t.segments(Nh)))}if(n(`fence`)&&(Bh(this.laid.fence),e.fence&&this.layFence(e.fence,!!t)),n(`rules`)){Bh(this.laid.rules);let t=new Mh,n=new cs(this.dark?`#9cc7ff`:`#0b3d91`);for(let[r,i]of e.rules)t.add([...r,...i].map(e=>e*kh),n);e.rules.length&&this.laid.rules.add(zh(t.segments(this.clip,{depthTest:!1,order:3})))}n(`marks`)&&(Bh(this.laid.marks),e.marks?.length&&this.laid.marks.add(this.dots(e.marks))),this.draw(!1)}dots(e){let t=new lc;t.setAttribute(`position`,new Js(new Float32Array(e.flatMap(e=>e.at.map(e=>e*kh))),3)),t.setAttribute(`tint`,new Js(new Uint8Array(e.flatMap(e=>e.colour)),3,!0)),t.setAttribute(`kind`,new Js(new Float32Array(e.flatMap(e=>[2*e.radius,+e.round,+e.ringed])),3));let n=new sl(t,new Gu({depthTest:!1,transparent:!0,uniforms:{ratio:this.ratio,alpha:{value:e[0].faded?.4:1},rim:{value:new cs(this.dark?`#0d1116`:`#20262c`)},ring:{value:new cs(this.dark?`#ff9b8f`:`#a31515`)}},vertexShader:`attribute vec3 tint, kind; uniform float ratio; varying vec3 c, k; void main() { c = tint; k = kind; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); gl_PointSize = (kind.x + 2.0) * ratio; }`,fragmentShader:`uniform float alpha; uniform vec3 rim, ring; varying vec3 c, k;
        void main() { vec2 p = abs(2.0 * gl_PointCoord - 1.0); float far = k.y > 0.5 ? length(p) : max(p.x, p.y) / 0.9; if (far > 1.0) discard;
          gl_FragColor = vec4((1.0 - far) * (k.x + 2.0) < (k.z > 0.5 ? 6.0 : 3.0) ? (k.z > 0.5 ? ring : rim) : c, alpha); }`}));return n.renderOrder=4,zh(n)}layParts(e){Bh(this.laid.parts);let t=new Map(e.steel?.bodies.map(e=>[e.name,e])),n=new Mh,r=new Mh,i=new Mh,a=new cs,o=new cs,s=new cs(this.dark?`#5b9be0`:`#2f6fc0`),c=new cs(this.dark?`#20262c`:`#eeeeee`);this.ranges=[];for(let l of this.bodies){if(e.hidden.has(l.name))continue;let u=l.name===e.picked,d=t.get(l.name)??null;if(d){let t=d.triangles,r=new Q,i=new Q,a=new Q,s=(e,t)=>t.fromArray(d.corners_mm,3*e);for(let[l,u,f]of t){s(l,r);let t=Lh(i.copy(s(u,i)).sub(r).cross(s(f,a).sub(r)).normalize());for(let r of[l,u,f]){let[i,a,s]=Cr(this.colours,d.b_T[r]/d.saturation_T);o.setRGB(i/255,a/255,s/255).multiplyScalar(.75+.25*t),e.stale&&o.lerp(c,.6),n.add(d.corners_mm.slice(3*r,3*r+3),o)}}}else{a.setStyle((Ah[l.kind]??Ah.steel)[+!!this.dark]),u&&a.lerp(s,.55);let e=new Q,t=new Q,r=new Q;for(let i=0;i<l.corners.length;i+=9){e.fromArray(l.corners,i),t.fromArray(l.corners,i+3).sub(e),r.fromArray(l.corners,i+6).sub(e),o.copy(a).multiplyScalar(Lh(t.cross(r).normalize()));for(let e=0;e<9;e+=3)n.add(l.corners.subarray(i+e,i+e+3),o)}}this.ranges.push({name:l.name,end:n.length/3,steel:d}),r.add(l.rims,o.setStyle(u?this.dark?`#9cc7ff`:`#0b3d91`:this.dark?`#0d1116`:`#20262c`)),i.add(l.pole,o.setStyle(`#fff3d6`))}r.add(this.region,o.setStyle(this.dark?`#f2a3cd`:`#8a1f5c`)),this.faces=zh(n.mesh(this.clip)),this.laid.parts.add(this.faces,zh(r.segments(this.clip)),zh(i.segments(this.clip,{depthTest:!1,order:2})))}layMap(e,t){let n=new Ic(Uint16Array.from(Sr(e),Ws.toHalfFloat),e.columns,e.rows,mi,ri);n.magFilter=n.minFilter=qr,n.wrapS=n.wrapT=Hr,n.needsUpdate=!0;let r=(e.columns-1)*e.step_m*kh,i=(e.rows-1)*e.step_m*kh,a=new Gu({side:2,transparent:!0,uniforms:{field:{value:n},palette:{value:this.palette},top:{value:t.mapTop},lines:{value:t.lines?10:0},size:{value:new Z(e.columns,e.rows)},fade:this.fade,dark:{value:+!!this.dark}},vertexShader:`varying vec2 at; void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,fragmentShader:`
        uniform sampler2D field, palette; uniform float top, lines, fade, dark; uniform vec2 size; varying vec2 at;
        void main() {
          float t = texture2D(field, (at * (size - 1.0) + 0.5) / size).r / top;
          vec3 c = texture2D(palette, vec2(clamp(t, 0.0, 1.0) * 63.0 / 64.0 + 0.5 / 64.0, 0.5)).rgb;
          float k = t * lines, w = fwidth(k);
          float line = lines > 0.0 && t < 1.02 ? 1.0 - smoothstep(0.35 * w, 1.1 * w, abs(fract(k - 0.5) - 0.5)) : 0.0;
          c = mix(c, t > 0.6 ? vec3(0.0) : vec3(1.0), line * 0.75 * step(w, 0.3));
          gl_FragColor = vec4(mix(dark > 0.5 ? vec3(0.1) : vec3(0.95), c, fade), mix(0.12, 1.0, smoothstep(0.0, 0.03, t)));
        }`}),o=new Nc(new Iu(r,i),a);this.map={plane:o,exact:a,columns:e.columns,rows:e.rows,baked:!1};let s=new Q;s.setComponent(e.plane.axis,e.plane.at_m*kh),s.setComponent(e.across,e.corner_m[0]*kh+r/2),s.setComponent(e.up,e.corner_m[1]*kh+i/2);let c=Hh(e.across),l=Hh(e.up);o.applyMatrix4(new Do().makeBasis(c,l,c.clone().cross(l)).setPosition(s));let u=new Mh,d=new cs(`#ffffff`);if(t.flow!==`none`){let n=new cs(this.dark?`#c9d1d8`:`#39424b`);for(let r of t.flow===`lines`?wr(e):Gh(e)){let i=r.b>.05*t.mapTop,a=[];for(let[t,n]of r.segments){let r=[0,0,0];r[e.plane.axis]=e.plane.at_m*kh+.15,r[e.across]=(e.corner_m[0]+t*e.step_m)*kh,r[e.up]=(e.corner_m[1]+n*e.step_m)*kh,a.push(...r)}u.add(a,i?d:n)}}this.laid.map.add(zh(o)),u.length&&this.laid.map.add(zh(u.segments(Nh)))}layFence(e,t){let n=new lc;n.setAttribute(`position`,new Js(new Float32Array(e.points_m.flat().map(e=>e*kh)),3)),n.setIndex(e.triangles.flat()),n.computeVertexNormals();let r=new cs().setStyle(this.dark?`#7db4f0`:`#1f5fa8`),i=zh(new Nc(n,new Gu({transparent:!0,depthWrite:!1,side:2,uniforms:{tint:{value:r}},vertexShader:`varying vec3 n, e; void main() { vec4 p = modelViewMatrix * vec4(position, 1.0); n = normalMatrix * normal; e = p.xyz; gl_Position = projectionMatrix * p; }`,fragmentShader:`uniform vec3 tint; varying vec3 n, e; void main() { float k = 1.0 - abs(dot(normalize(n), normalize(e))); gl_FragColor = vec4(tint, 0.07 + 0.4 * k * k); }`})));i.renderOrder=1;let a=new Mh,o=n.toNonIndexed().getAttribute(`position`).array;for(let t of[0,1,2])a.add(Wh(o,t,e.center_m[t]*kh,0),r);let s=new Mh,c=(e,t,n,r,i)=>{let a=new Nu(e,{depth:r,bevelEnabled:!1,curveSegments:8}).translate(t,n,this.box.min.z),o=a.index?a.toNonIndexed():a,c=o.getAttribute(`position`).array,l=o.getAttribute(`normal`).array,u=new cs().setStyle(i),d=new cs,f=new Q;for(let e=0;e<c.length;e+=3)s.add(c.subarray(e,e+3),d.copy(u).multiplyScalar(Lh(f.fromArray(l,e))))},l=this.box.max.x+30;if(c(qh(),l,-95,22,this.dark?`#d8b49a`:`#dcae8e`),c(Jh(),l+120,-75,6,this.dark?`#aab4bd`:`#8b97a2`),this.laid.fence.add(i,zh(a.segments(Nh)),zh(s.mesh(Nh))),!t)return;let u=new Ts().setFromObject(this.laid.fence).getSize(new Q).length(),d=this.camera.position.distanceTo(this.controls.target);u>d&&this.zoom(1.6*u/d),this.camera.far=Math.max(this.camera.far,40*u),this.camera.updateProjectionMatrix()}end(){this.gone.abort(),clearTimeout(this.rest),this.controls.dispose(),this.showMap(!1);for(let e of[...Object.values(this.laid),this.copy])Bh(e);this.coarse.dispose(),this.still.dispose(),this.bakedMap.dispose(),this.renderer.dispose(),this.canvas.remove()}},Mh=class{length=0;at=[];tint=[];add(e,t){this.at.push(e),this.tint.push([e.length/3,255*Math.min(1,t.r),255*Math.min(1,t.g),255*Math.min(1,t.b)]),this.length+=e.length/3}geometry(){let e=new Float32Array(3*this.length),t=new Uint8Array(3*this.length),n=0,r=0;for(let t of this.at)e.set(t,n),n+=t.length;for(let[e,n,i,a]of this.tint)for(let o=0;o<e;o++)t[r++]=n,t[r++]=i,t[r++]=a;let i=new lc;return i.setAttribute(`position`,new Js(e,3)),i.setAttribute(`tint`,new Js(t,3,!0)),i}mesh(e){let t=Ph(e,!0);return t.polygonOffset=!0,t.polygonOffsetFactor=t.polygonOffsetUnits=1,new Nc(this.geometry(),t)}segments(e,t={}){let n=Ph(e,!1);n.depthTest=t.depthTest??!0;let r=new tl(this.geometry(),n);return r.renderOrder=t.order??0,r}},Nh={value:new So(0,0,0,1)};function Ph(e,t){return new Gu({side:2,uniforms:{clip:e},vertexShader:`attribute vec3 tint; uniform vec4 clip; varying vec3 c; varying float d; void main() { c = tint; d = dot(clip.xyz, position) + clip.w; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,fragmentShader:`varying vec3 c; varying float d; void main() { if (d < 0.0) discard; gl_FragColor = vec4(${t?`gl_FrontFacing ? c : 0.55 * c`:`c`}, 1.0); }`})}var Fh=new Q(.6,-.35,1).normalize(),Ih=new Q(-1,.8,.2).normalize(),Lh=e=>.62+.38*Math.max(0,e.dot(Fh))+.12*Math.max(0,e.dot(Ih));function Rh(e){let t=e.getExtension(`WEBGL_debug_renderer_info`);return t!==null&&/swiftshader|llvmpipe|software/i.test(String(e.getParameter(t.UNMASKED_RENDERER_WEBGL)))}function zh(e){return e.updateMatrixWorld(!0),e.matrixAutoUpdate=!1,e}function Bh(e){e.traverse(e=>{e.geometry?.dispose();let t=e.material;t?.dispose(),(t?.uniforms.field?.value)?.dispose()}),e.clear()}var Vh=e=>new Q(...e).multiplyScalar(kh),Hh=e=>new Q().setComponent(e,1);function Uh(e){let t=[],n=e.size_m.map(e=>e/2),r=t=>t.map((t,n)=>(t+e.center_m[n])*kh),i=(e,i)=>{let a=(e+1)%3,o=(e+2)%3;for(let s=0;s<48;s++)for(let c of[s,s+1]){let s=[0,0,0],l=2*Math.PI*c/48;s[e]=i,s[a]=n[a]*Math.cos(l),s[o]=n[o]*Math.sin(l),t.push(...r(s))}};if(e.shape===`sphere`)for(let e of[0,1,2])i(e,0);else if(e.shape===`cylinder`)for(let t of[-1,1])i(e.axis,t*n[e.axis]);else for(let e of[0,1,2])for(let i of[-1,1])for(let a of[-1,1])for(let o of[-1,1]){let s=[0,0,0];s[e]=o*n[e],s[(e+1)%3]=i*n[(e+1)%3],s[(e+2)%3]=a*n[(e+2)%3],t.push(...r(s))}return t}function Wh(e,t,n,r){let i=[];for(let a=0;a<e.length;a+=9){let o=[0,3,6].map(r=>e[a+r+t]-n-137e-7);if(!(o.every(e=>e<0)||o.every(e=>e>=0)))for(let s=0;s<3;s++){let c=(s+1)%3,l=o[s],u=o[c];if(l<0==u<0)continue;let d=l/(l-u);for(let o=0;o<3;o++)i.push(o===t?n+r:e[a+3*s+o]*(1-d)+e[a+3*c+o]*d)}}return i}function Gh(e){let t=Math.max(1,Math.round(Math.max(e.columns,e.rows)/26)),n=t*.8,r=[];for(let i=0;i<e.rows;i+=t)for(let a=0;a<e.columns;a+=t){let t=3*(i*e.columns+a),o=e.b_T[t+e.across],s=e.b_T[t+e.up],c=Math.hypot(o,s);if(c<1e-7)continue;let l=o/c,u=s/c,d=[a+l/2*n,i+u/2*n],f=e=>[a+(.2*l+e*.18*u)*n,i+(.2*u-e*.18*l)*n];r.push({b:c,segments:[[a-l/2*n,i-u/2*n],d,d,f(1),d,f(-1)]})}return r}function Kh(e){let t=new Q(...e.magnetized),n=Vh(e.center_m),r=Vh(e.bounds_m[1]).sub(Vh(e.bounds_m[0])),i=.8*Math.abs(t.dot(r)),a=Math.abs(t.x)<.9?new Q(1,0,0).cross(t).normalize():new Q(0,1,0).cross(t).normalize(),o=n.clone().addScaledVector(t,i/2),s=n.clone().addScaledVector(t,-i/2),c=e=>o.clone().addScaledVector(t,-.25*i).addScaledVector(a,e*.15*i);return[s,o,o,c(1),o,c(-1)].flatMap(e=>e.toArray())}function qh(){let e=new Yl;return[[18,0],[68,0],[72,40],[80,60],[104,92],[100,104],[92,104],[78,86],[82,104],[84,158],[80,166],[72,166],[68,158],[65,112],[62,112],[61,182],[57,190],[49,190],[45,182],[44,112],[41,112],[38,174],[34,181],[27,181],[23,174],[23,108],[20,106],[12,148],[8,154],[1,152],[0,145],[4,96],[6,60],[12,40]].forEach(([t,n],r)=>r?e.lineTo(t,n):e.moveTo(t,n)),e}function Jh(){let e=new Yl,t=[[6,22],[14,14],[15,4],[9,-1],[6,6],[-6,6],[-9,-1],[-15,4],[-14,14],[-6,22]];return e.moveTo(t[0][0],t[0][1]),t.slice(1).forEach(([t,n])=>e.lineTo(t,n)),[...t].reverse().forEach(([t,n])=>e.lineTo(t,150-n)),e.closePath(),e}var Yh=[`x`,`y`,`z`],Xh=K(!0),Zh=K(!0),Qh=K(!1),$h=K(!0),eg=K(`none`),tg=K(!1),ng=K(!0),rg=K(0),ig=K(0),ag=K(null),og=K(``),sg=On(),cg=On(),lg=On(),ug=e=>({...Gt(),accuracy:e.accuracy,field_only:e.field_only}),dg=(e,...t)=>e&&Ht.value&&Et.value?JSON.stringify([q.value,Ht.value.accuracy,...t]):``;kn(sg,()=>dg(Zh.value,rg.value,ig.value),async()=>{let e={...ug(Ht.value),plane:{axis:rg.value,at_m:ig.value},cells:72},t=t=>t&&ke(()=>(ag.value=t,og.value=e.text));t(await sg.run(`/api/plane`,e,(e,n)=>e===`map`&&t(n)))})(),kn(cg,()=>dg(Qh.value&&Ht.value?.accuracy!==`draft`),()=>cg.run(`/api/stray`,{...ug(Ht.value),limit_T:5e-4}))(),kn(lg,()=>dg(tg.value),()=>lg.run(`/api/steel`,ug(Ht.value)))();var fg=K(!1),pg=We(()=>($t.value||!!zt.value.running)&&!dr.value),mg=0,hg;Ye(()=>{let e=pg.value;(e||fg.peek())&&(fg.peek()||(mg=performance.now()),fg.value=!0,clearTimeout(hg),hg=setTimeout(()=>fg.value=!1,e?mg+250-performance.now():30))});var gg=We(()=>{let e=ag.value;if(!e)return 1;let t=Sr(e).sort((e,t)=>e-t),n=t[Math.floor(.985*t.length)]||1,r=10**Math.floor(Math.log10(n));return Math.ceil(n/r*4)/4*r}),_g=We(()=>{let e=ng.value?Er.value:null;if(!e?.list.length)return null;let t=Dr(e.list),n=10**Math.floor(Math.log10(t)),r=[1,2,5,10].find(e=>e*n>=t*(1-1e-9))*n,i=e.list.map(n=>({at:n.at,colour:Cr(kr,.5+n.t/r/2),radius:2+.6*Or(n.t,t),round:n.t>=0,ringed:n.wrong,faded:e.stale}));return{...e,top:r,marks:i}}),vg=[],yg=e=>`${e.map(e=>Fn(Math.round(e*Nn()*1e3)/1e3,4)).join(`, `)} ${Mn()}`,bg=(e,t=4)=>`${J(e*1e3,t)} mT`,xg=e=>`${e.component} at ${yg(e.at)}: read ${bg(e.read)}, predicted ${bg(e.predicted)}, difference ${Nr(e.t*1e3)} ± ${bg(e.sigma,2)}${e.wrong?`, fits in with nothing`:``} (line ${e.line})`;function Sg({editing:e=!0}){let t=V(null),n=V(null),r=V(()=>{}),i=ot(``),a=ot(null),o=V(``);B(()=>{try{let i=n.current=new jh(t.current,Ct.value.palette);i.onPick=(t,n)=>{if(!e)return;ke(()=>(Ot.value=t,tr.value=n));let r=Et.value?.parts.find(e=>e.name===t)?.kind;r&&(Dt.value=r===`magnet`?`magnet`:`yoke`)},i.onFrame=()=>r.current(),i.onHover=e=>a.value=e,window.benchView=i}catch(e){i.value=`This browser shows no three-dimensional view (${e instanceof Error?e.message:e}); all else works.`}return()=>n.current?.end()},[]),mt(()=>{let e=fg.value?null:Et.value;if(!e||!n.current||!e.parts.length)return;let t=`${e.layout}:${e.parts.length}:${Gt().file}`;n.current.build(e,t!==o.current),o.current=t});let s=()=>tg.value?lg.state.value.answer:null,c=()=>!!ag.value&&og.value!==q.value||!!s()&&lg.state.value.of!==q.value;mt(()=>{if(fg.value)return n.current?.wait();let t=Zh.value?ag.value:null;n.current?.show({cut:Xh.value?{axis:rg.value,at:ig.value}:null,hidden:kt.value,picked:Ot.value,map:t,mapTop:gg.value,lines:$h.value,flow:eg.value,steel:s(),fence:Qh.value?cg.state.value.answer:null,stale:c(),rules:e?vr.value:vg,gap:or.value,marks:_g.value?.marks??null}),n.current?.canvas.setAttribute(`aria-label`,`The parts in three dimensions${t?`, with the field on the plane ${Yh[t.plane.axis]} = ${Pn(t.plane.at_m)}`:``}. Arrow keys turn, + and − zoom.`)});let l=Et.value?.box,u=l?l.min_m[rg.value]:-.1,d=l?l.max_m[rg.value]:.1,f=.25*(d-u),p=sg.state.value.running??cg.state.value.running??lg.state.value.running,m=sg.state.value.fault||cg.state.value.fault||lg.state.value.fault,h=()=>t.current?.clientWidth??0,g=e=>ig.value=+e/Nn();return Y(`section`,{class:`scene`,"aria-label":`View of the parts`,children:[Y(`div`,{class:`canvas`,ref:t,children:[i.value&&Y(`p`,{class:`fault`,children:i.value}),Et.value&&!Et.value.parts.length&&Y(`p`,{class:`empty`,children:`There are no parts to show yet.`}),a.value&&Y(`output`,{class:`hover`,style:{[a.value.x>h()/2?`right`:`left`]:`${a.value.x>h()/2?h()-a.value.x+12:a.value.x+12}px`,top:`${a.value.y+12}px`},children:a.value.mark===void 0?Y(x,{children:[In(a.value.b),a.value.share!==void 0&&`, ${J(100*a.value.share,3)} % of saturation, ${a.value.of}`,` at `,yg(a.value.place)]}):_g.value&&xg(_g.value.list[a.value.mark])}),e&&Y(xr,{view:n,frame:r}),Y(`div`,{class:`scales`,children:[Zh.value&&ag.value&&Y(Cg,{name:`B`,top:In(gg.value,3),stale:og.value!==q.value}),s()&&Y(Cg,{name:`steel, of saturation`,top:`100 %`,stale:lg.state.value.of!==q.value}),_g.value&&Y(Cg,{name:`${_g.value.component}, read less predicted`,top:`● +${Fn(_g.value.top*1e3,1)} mT`,middle:`0`,bottom:`■ −${Fn(_g.value.top*1e3,1)} mT`,colours:kr,stale:_g.value.stale})]})]}),Y(`div`,{class:`controls`,children:[Y(`div`,{class:`row`,children:[Y(`div`,{class:`choices`,role:`group`,"aria-label":`Look from`,children:[[[`oblique`,[1,-.75,.55]],[`front`,[1,0,0]],[`side`,[0,-1,0]],[`above`,[0,-.001,1]]].map(([e,t])=>Y(`button`,{type:`button`,onClick:()=>n.current?.look([...t]),children:e},e)),Y(`button`,{type:`button`,"aria-label":`Nearer`,onClick:()=>n.current?.zoom(.8),children:`+`}),Y(`button`,{type:`button`,"aria-label":`Farther`,onClick:()=>n.current?.zoom(1.25),children:`−`})]}),Y(`span`,{id:`plane-axis`,children:`Plane across`}),Y(`span`,{class:`choices`,role:`group`,"aria-labelledby":`plane-axis`,children:Yh.map((e,t)=>Y(`button`,{type:`button`,"aria-pressed":rg.value===t,onClick:()=>ke(()=>(rg.value=t,ig.value=0)),children:e},e))}),Y(`label`,{class:`slide`,children:[`at `,Y(`input`,{type:`range`,min:Fn((u-f)*Nn(),5).replace(`−`,`-`),max:Fn((d+f)*Nn(),5).replace(`−`,`-`),step:Mn()===`mm`?.5:.02,value:ig.value*Nn(),onInput:e=>g(e.currentTarget.value),"aria-valuetext":`${Yh[rg.value]} = ${Pn(ig.value)}`}),Y(`output`,{children:[Yh[rg.value],` = `,Pn(ig.value,3)]})]})]}),Y(`div`,{class:`row`,children:[Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:Zh.value,onChange:e=>Zh.value=e.currentTarget.checked}),` field`]}),Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:$h.value,disabled:!Zh.value,onChange:e=>$h.value=e.currentTarget.checked}),` lines of equal field`]}),Y(`label`,{children:[`direction `,Y(`select`,{value:eg.value,disabled:!Zh.value,onChange:e=>eg.value=e.currentTarget.value,children:[Y(`option`,{value:`none`,children:`none`}),Y(`option`,{value:`arrows`,children:`arrows`}),Y(`option`,{value:`lines`,children:`field lines`})]})]}),Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:tg.value,onChange:e=>tg.value=e.currentTarget.checked}),` how full the steel is`]}),Er.value&&Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:ng.value,onChange:e=>ng.value=e.currentTarget.checked}),` readings less the prediction `,Er.value.than]}),Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:Xh.value,onChange:e=>Xh.value=e.currentTarget.checked}),` cut the parts there`]}),Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:Qh.value,onChange:e=>Qh.value=e.currentTarget.checked}),` 0.5 mT surface, with a hand and a 150 mm spanner`]})]}),e&&Y(`div`,{class:`row`,children:[Y(`span`,{children:[`Click a part to drag its dimensions`,or.value?`, or`:``]}),or.value&&Y(`span`,{class:`choices`,children:Y(`button`,{type:`button`,"aria-pressed":tr.value,onClick:()=>ke(()=>(Ot.value=null,tr.value=!tr.value)),children:`the gap`})}),An.value?Y(`span`,{children:`Handles step by 1/64 in`}):Y(`label`,{children:[`Handles step by `,Y(`select`,{value:nr.value?`1`:`0.1`,onChange:e=>nr.value=e.currentTarget.value===`1`,children:[Y(`option`,{value:`0.1`,children:`0.1 mm`}),Y(`option`,{value:`1`,children:`1 mm`})]})]})]}),p&&Y(Qn,{p,what:`The field in the view`,onCancel:()=>(sg.cancel(),cg.cancel(),lg.cancel())}),Qh.value&&cg.state.value.answer&&Y(`small`,{children:[`0.5 mT reaches `,Pn(cg.state.value.answer.farthest_m),` from the middle at most`,cg.state.value.of===q.value?``:` (an earlier design)`,`.`]}),s()&&s().bodies.length===0&&Y(`small`,{children:`There is no steel that saturates in this design.`}),m&&Y(`p`,{class:`fault`,role:`alert`,children:m})]})]})}function Cg({name:e,top:t,middle:n,bottom:r=`0`,colours:i,stale:a}){let o=`linear-gradient(to top, ${(i??Ct.value.palette).map(e=>`rgb(${e.join(`,`)})`).join()})`;return Y(`div`,{class:`scale ${a?`stale`:``}`,role:`img`,"aria-label":`Colours of ${e} from ${r} to ${t}`,children:[Y(`b`,{children:e}),Y(`span`,{children:t}),Y(`span`,{class:`ramp`,style:{background:o},children:n&&Y(`span`,{children:n})}),Y(`span`,{children:r})]})}var wg=!0,Tg=`uplot`,Eg=`u-hz`,Dg=`u-vt`,Og=`u-title`,kg=`u-wrap`,Ag=`u-under`,jg=`u-over`,Mg=`u-axis`,Ng=`u-off`,Pg=`u-select`,Fg=`u-cursor-x`,Ig=`u-cursor-y`,Lg=`u-cursor-pt`,Rg=`u-legend`,zg=`u-live`,Bg=`u-inline`,Vg=`u-series`,Hg=`u-marker`,Ug=`u-label`,Wg=`u-value`,Gg=`width`,Kg=`height`,qg=`top`,Jg=`bottom`,Yg=`left`,Xg=`right`,Zg=`#000`,Qg=`#0000`,$g=`mousemove`,e_=`mousedown`,t_=`mouseup`,n_=`mouseenter`,r_=`mouseleave`,i_=`dblclick`,a_=`resize`,o_=`scroll`,s_=`change`,c_=`dppxchange`,l_=`--`,u_=typeof window<`u`,d_=u_?document:null,f_=u_?window:null,p_=u_?navigator:null,m_,h_;function g_(){let e=devicePixelRatio;m_!=e&&(m_=e,h_&&j_(s_,h_,g_),h_=matchMedia(`(min-resolution: ${m_-.001}dppx) and (max-resolution: ${m_+.001}dppx)`),A_(s_,h_,g_),f_.dispatchEvent(new CustomEvent(c_)))}function __(e,t){if(t!=null){let n=e.classList;!n.contains(t)&&n.add(t)}}function v_(e,t){let n=e.classList;n.contains(t)&&n.remove(t)}function y_(e,t,n){e.style[t]=n+`px`}function b_(e,t,n,r){let i=d_.createElement(e);return t!=null&&__(i,t),n?.insertBefore(i,r),i}function x_(e,t){return b_(`div`,e,t)}var S_=new WeakMap;function C_(e,t,n,r,i){let a=`translate(`+t+`px,`+n+`px)`;a!=S_.get(e)&&(e.style.transform=a,S_.set(e,a),t<0||n<0||t>r||n>i?__(e,Ng):v_(e,Ng))}var w_=new WeakMap;function T_(e,t,n){let r=t+n;r!=w_.get(e)&&(w_.set(e,r),e.style.background=t,e.style.borderColor=n)}var E_=new WeakMap;function D_(e,t,n,r){let i=t+``+n;i!=E_.get(e)&&(E_.set(e,i),e.style.height=n+`px`,e.style.width=t+`px`,e.style.marginLeft=r?-t/2+`px`:0,e.style.marginTop=r?-n/2+`px`:0)}var O_={passive:!0},k_={...O_,capture:!0};function A_(e,t,n,r){t.addEventListener(e,n,r?k_:O_)}function j_(e,t,n,r){t.removeEventListener(e,n,O_)}u_&&g_();function M_(e,t,n,r){let i;n||=0,r||=t.length-1;let a=r<=2147483647;for(;r-n>1;)i=a?n+r>>1:ev((n+r)/2),t[i]<e?n=i:r=i;return e-t[n]<=t[r]-e?n:r}function N_(e){return(t,n,r)=>{let i=-1,a=-1;for(let a=n;a<=r;a++)if(e(t[a])){i=a;break}for(let i=r;i>=n;i--)if(e(t[i])){a=i;break}return[i,a]}}var P_=e=>e!=null,F_=e=>e!=null&&e>0,I_=N_(P_),L_=N_(F_);function R_(e,t,n,r=0,i=!1){let a=i?L_:I_,o=i?F_:P_;[t,n]=a(e,t,n);let s=e[t],c=e[t];if(t>-1){if(r==1)s=e[t],c=e[n];else if(r==-1)s=e[n],c=e[t];else for(let r=t;r<=n;r++){let t=e[r];o(t)&&(t<s?s=t:t>c&&(c=t))}}return[s??dv,c??-dv]}function z_(e,t,n,r){let i=ov(e),a=ov(t);e==t&&(i==-1?(e*=n,t/=n):(e/=n,t*=n));let o=n==10?sv:cv,s=i==1?ev:nv,c=a==1?nv:ev,l=s(o($_(e))),u=c(o($_(t))),d=av(n,l),f=av(n,u);return n==10&&(l<0&&(d=Dv(d,-l)),u<0&&(f=Dv(f,-u))),r||n==2?(e=d*i,t=f*a):(e=Ev(e,d),t=Tv(t,f)),[e,t]}function B_(e,t,n,r){let i=z_(e,t,n,r);return e==0&&(i[0]=0),t==0&&(i[1]=0),i}var V_=.1,H_={mode:3,pad:V_},U_={pad:0,soft:null,mode:0},W_={min:U_,max:U_};function G_(e,t,n,r){return Rv(n)?J_(e,t,n):(U_.pad=n,U_.soft=r?0:null,U_.mode=r?3:0,J_(e,t,W_))}function K_(e,t){return e??t}function q_(e,t,n){for(t=K_(t,0),n=K_(n,e.length-1);t<=n;){if(e[t]!=null)return!0;t++}return!1}function J_(e,t,n){let r=n.min,i=n.max,a=K_(r.pad,0),o=K_(i.pad,0),s=K_(r.hard,-dv),c=K_(i.hard,dv),l=K_(r.soft,dv),u=K_(i.soft,-dv),d=K_(r.mode,0),f=K_(i.mode,0),p=t-e,m=sv(p),h=iv($_(e),$_(t)),g=$_(sv(h)-m);(p<1e-24||g>10)&&(p=0,(e==0||t==0)&&(p=1e-24,d==2&&l!=dv&&(a=0),f==2&&u!=-dv&&(o=0)));let _=p||h||1e3,v=av(10,ev(sv(_))),y=Dv(Ev(e-_*(p==0?e==0?.1:1:a),v/10),24),b=e>=l&&(d==1||d==3&&y<=l||d==2&&y>=l)?l:dv,x=iv(s,y<b&&e>=b?b:rv(b,y)),S=Dv(Tv(t+_*(p==0?t==0?.1:1:o),v/10),24),C=t<=u&&(f==1||f==3&&S>=u||f==2&&S<=u)?u:-dv,w=rv(c,S>C&&t<=C?C:iv(C,S));return x==w&&x==0&&(w=100),[x,w]}var Y_=new Intl.NumberFormat(u_?p_.language:`en-US`),X_=e=>Y_.format(e),Z_=Math,Q_=Z_.PI,$_=Z_.abs,ev=Z_.floor,tv=Z_.round,nv=Z_.ceil,rv=Z_.min,iv=Z_.max,av=Z_.pow,ov=Z_.sign,sv=Z_.log10,cv=Z_.log2,lv=(e,t=1)=>Z_.sinh(e)*t,uv=(e,t=1)=>Z_.asinh(e/t),dv=1/0;function fv(e){return(sv((e^e>>31)-(e>>31))|0)+1}function pv(e,t,n){return rv(iv(e,t),n)}function mv(e){return typeof e==`function`}function hv(e){return mv(e)?e:()=>e}var gv=()=>{},_v=e=>e,vv=(e,t)=>t,yv=e=>null,bv=e=>!0,xv=(e,t)=>e==t,Sv=/\.\d*?(?=9{6,}|0{6,})/gm,Cv=e=>{if(Fv(e)||Ov.has(e))return e;let t=`${e}`,n=t.match(Sv);if(n==null)return e;let r=n[0].length-1;if(t.indexOf(`e-`)!=-1){let[e,n]=t.split(`e`);return+`${Cv(e)}e${n}`}return Dv(e,r)};function wv(e,t){return Cv(Dv(Cv(e/t))*t)}function Tv(e,t){return Cv(nv(Cv(e/t))*t)}function Ev(e,t){return Cv(ev(Cv(e/t))*t)}function Dv(e,t=0){if(Fv(e))return e;let n=10**t;return tv(e*n*(1+2**-52))/n}var Ov=new Map;function kv(e){return((``+e).split(`.`)[1]||``).length}function Av(e,t,n,r){let i=[],a=r.map(kv);for(let o=t;o<n;o++){let t=$_(o),n=Dv(av(e,o),t);for(let s=0;s<r.length;s++){let c=e==10?+`${r[s]}e${o}`:r[s]*n,l=(o>=0?0:t)+(o>=a[s]?0:a[s]),u=e==10?c:Dv(c,l);i.push(u),Ov.set(u,l)}}return i}var jv={},Mv=[],Nv=[null,null],Pv=Array.isArray,Fv=Number.isInteger,Iv=e=>e===void 0;function Lv(e){return typeof e==`string`}function Rv(e){let t=!1;if(e!=null){let n=e.constructor;t=n==null||n==Object}return t}function zv(e){return typeof e==`object`&&!!e}var Bv=Object.getPrototypeOf(Uint8Array),Vv=`__proto__`;function Hv(e,t=Rv){let n;if(Pv(e)){let r=e.find(e=>e!=null);if(Pv(r)||t(r)){n=Array(e.length);for(let r=0;r<e.length;r++)n[r]=Hv(e[r],t)}else n=e.slice()}else if(e instanceof Bv)n=e.slice();else if(t(e)){n={};for(let r in e)r!=Vv&&(n[r]=Hv(e[r],t))}else n=e;return n}function Uv(e){let t=arguments;for(let n=1;n<t.length;n++){let r=t[n];for(let t in r)t!=Vv&&(Rv(e[t])?Uv(e[t],Hv(r[t])):e[t]=Hv(r[t]))}return e}var Wv=0,Gv=1,Kv=2;function qv(e,t,n){for(let r=0,i,a=-1;r<t.length;r++){let o=t[r];if(o>a){for(i=o-1;i>=0&&e[i]==null;)e[i--]=null;for(i=o+1;i<n&&e[i]==null;)e[a=i++]=null}}}function Jv(e,t){if(Zv(e)){let t=e[0].slice();for(let n=1;n<e.length;n++)t.push(...e[n].slice(1));return Qv(t[0])||(t=Xv(t)),t}let n=new Set;for(let t=0;t<e.length;t++){let r=e[t][0],i=r.length;for(let e=0;e<i;e++)n.add(r[e])}let r=[Array.from(n).sort((e,t)=>e-t)],i=r[0].length,a=new Map;for(let e=0;e<i;e++)a.set(r[0][e],e);for(let n=0;n<e.length;n++){let o=e[n],s=o[0];for(let e=1;e<o.length;e++){let c=o[e],l=Array(i).fill(void 0),u=t?t[n][e]:Gv,d=[];for(let e=0;e<c.length;e++){let t=c[e],n=a.get(s[e]);t===null?u!=Wv&&(l[n]=t,u==Kv&&d.push(n)):l[n]=t}qv(l,d,i),r.push(l)}}return r}var Yv=typeof queueMicrotask>`u`?e=>Promise.resolve().then(e):queueMicrotask;function Xv(e){let t=e[0],n=t.length,r=Array(n);for(let e=0;e<r.length;e++)r[e]=e;r.sort((e,n)=>t[e]-t[n]);let i=[];for(let t=0;t<e.length;t++){let a=e[t],o=Array(n);for(let e=0;e<n;e++)o[e]=a[r[e]];i.push(o)}return i}function Zv(e){let t=e[0][0],n=t.length;for(let r=1;r<e.length;r++){let i=e[r][0];if(i.length!=n)return!1;if(i!=t){for(let e=0;e<n;e++)if(i[e]!=t[e])return!1}}return!0}function Qv(e,t=100){let n=e.length;if(n<=1)return!0;let r=0,i=n-1;for(;r<=i&&e[r]==null;)r++;for(;i>=r&&e[i]==null;)i--;if(i<=r)return!0;let a=iv(1,ev((i-r+1)/t));for(let t=e[r],n=r+a;n<=i;n+=a){let r=e[n];if(r!=null){if(r<=t)return!1;t=r}}return!0}var $v=[`January`,`February`,`March`,`April`,`May`,`June`,`July`,`August`,`September`,`October`,`November`,`December`],ey=[`Sunday`,`Monday`,`Tuesday`,`Wednesday`,`Thursday`,`Friday`,`Saturday`];function ty(e){return e.slice(0,3)}var ny=ey.map(ty),ry={MMMM:$v,MMM:$v.map(ty),WWWW:ey,WWW:ny};function iy(e){return(e<10?`0`:``)+e}function ay(e){return(e<10?`00`:e<100?`0`:``)+e}var oy={YYYY:e=>e.getFullYear(),YY:e=>(e.getFullYear()+``).slice(2),MMMM:(e,t)=>t.MMMM[e.getMonth()],MMM:(e,t)=>t.MMM[e.getMonth()],MM:e=>iy(e.getMonth()+1),M:e=>e.getMonth()+1,DD:e=>iy(e.getDate()),D:e=>e.getDate(),WWWW:(e,t)=>t.WWWW[e.getDay()],WWW:(e,t)=>t.WWW[e.getDay()],HH:e=>iy(e.getHours()),H:e=>e.getHours(),h:e=>{let t=e.getHours();return t==0?12:t>12?t-12:t},AA:e=>e.getHours()>=12?`PM`:`AM`,aa:e=>e.getHours()>=12?`pm`:`am`,a:e=>e.getHours()>=12?`p`:`a`,mm:e=>iy(e.getMinutes()),m:e=>e.getMinutes(),ss:e=>iy(e.getSeconds()),s:e=>e.getSeconds(),fff:e=>ay(e.getMilliseconds())};function sy(e,t){t||=ry;let n=[],r=/\{([a-z]+)\}|[^{]+/gi,i;for(;i=r.exec(e);)n.push(i[0][0]==`{`?oy[i[1]]:i[0]);return e=>{let r=``;for(let i=0;i<n.length;i++)r+=typeof n[i]==`string`?n[i]:n[i](e,t);return r}}var cy=new Intl.DateTimeFormat().resolvedOptions().timeZone;function ly(e,t){let n;return t==`UTC`||t==`Etc/UTC`?n=new Date(+e+e.getTimezoneOffset()*6e4):t==cy?n=e:(n=new Date(e.toLocaleString(`en-US`,{timeZone:t})),n.setMilliseconds(e.getMilliseconds())),n}var uy=e=>e%1==0,dy=[1,2,2.5,5],fy=Av(10,-32,0,dy),py=Av(10,0,32,dy),my=py.filter(uy),hy=fy.concat(py),gy=`
`,_y=`{YYYY}`,vy=gy+_y,yy=`{M}/{D}`,by=gy+yy,xy=by+`/{YY}`,Sy=`{aa}`,Cy=`{h}:{mm}`+Sy,wy=gy+Cy,Ty=`:{ss}`,Ey=null;function Dy(e){let t=e*1e3,n=t*60,r=n*60,i=r*24,a=i*30,o=i*365,s=(e==1?Av(10,0,3,dy).filter(uy):Av(10,-3,0,dy)).concat([t,t*5,t*10,t*15,t*30,n,n*5,n*10,n*15,n*30,r,r*2,r*3,r*4,r*6,r*8,r*12,i,i*2,i*3,i*4,i*5,i*6,i*7,i*8,i*9,i*10,i*15,a,a*2,a*3,a*4,a*6,o,o*2,o*5,o*10,o*25,o*50,o*100]),c=[[o,_y,Ey,Ey,Ey,Ey,Ey,Ey,1],[i*28,`{MMM}`,vy,Ey,Ey,Ey,Ey,Ey,1],[i,yy,vy,Ey,Ey,Ey,Ey,Ey,1],[r,`{h}`+Sy,xy,Ey,by,Ey,Ey,Ey,1],[n,Cy,xy,Ey,by,Ey,Ey,Ey,1],[t,Ty,xy+` `+Cy,Ey,by+` `+Cy,Ey,wy,Ey,1],[e,Ty+`.{fff}`,xy+` `+Cy,Ey,by+` `+Cy,Ey,wy,Ey,1]];function l(t){return(s,c,l,u,d,f)=>{let p=[],m=d>=o,h=d>=a&&d<o,g=t(l),_=Dv(g*e,3),v=Ly(g.getFullYear(),m?0:g.getMonth(),h||m?1:g.getDate()),y=Dv(v*e,3);if(h||m){let n=h?d/a:0,r=m?d/o:0,i=_==y?_:Dv(Ly(v.getFullYear()+r,v.getMonth()+n,1)*e,3),s=new Date(tv(i/e)),c=s.getFullYear(),l=s.getMonth();for(let a=0;i<=u;a++){let o=Ly(c+r*a,l+n*a,1),s=o-t(Dv(o*e,3));i=Dv((+o+s)*e,3),i<=u&&p.push(i)}}else{let a=d>=i?i:d,o=y+(ev(l)-ev(_))+Tv(_-y,a);p.push(o);let m=t(o),h=m.getHours()+m.getMinutes()/n+m.getSeconds()/r,g=d/r,v=f/s.axes[c]._space;for(;o=Dv(o+d,e==1?0:3),!(o>u);)if(g>1){let e=ev(Dv(h+g,6))%24,n=t(o).getHours()-e;n>1&&(n=-1),o-=n*r,h=(h+g)%24;let i=p[p.length-1];Dv((o-i)/d,3)*v>=.7&&p.push(o)}else p.push(o)}return p}}return[s,c,l]}var[Oy,ky,Ay]=Dy(1),[jy,My,Ny]=Dy(.001);Av(2,-53,53,[1]);function Py(e,t){return e.map(e=>e.map((n,r)=>r==0||r==8||n==null?n:t(r==1||e[8]==0?n:e[1]+n)))}function Fy(e,t){return(n,r,i,a,o)=>{let s=t.find(e=>o>=e[0])||t[t.length-1],c,l,u,d,f,p;return r.map(t=>{let n=e(t),r=n.getFullYear(),i=n.getMonth(),a=n.getDate(),o=n.getHours(),m=n.getMinutes(),h=n.getSeconds(),g=r!=c&&s[2]||i!=l&&s[3]||a!=u&&s[4]||o!=d&&s[5]||m!=f&&s[6]||h!=p&&s[7]||s[1];return c=r,l=i,u=a,d=o,f=m,p=h,g(n)})}}function Iy(e,t){let n=sy(t);return(t,r,i,a,o)=>r.map(t=>n(e(t)))}function Ly(e,t,n){return new Date(e,t,n)}function Ry(e,t){return t(e)}var zy=`{YYYY}-{MM}-{DD} {h}:{mm}{aa}`;function By(e,t){return(n,r,i,a)=>a==null?l_:t(e(r))}function Vy(e,t){let n=e.series[t];return n.width?n.stroke(e,t):n.points.width?n.points.stroke(e,t):null}function Hy(e,t){return e.series[t].fill(e,t)}var Uy={show:!0,live:!0,isolate:!1,mount:gv,markers:{show:!0,width:2,stroke:Vy,fill:Hy,dash:`solid`},idx:null,idxs:null,values:[]};function Wy(e,t){let n=e.cursor.points,r=x_(),i=n.size(e,t);y_(r,Gg,i),y_(r,Kg,i);let a=i/-2;y_(r,`marginLeft`,a),y_(r,`marginTop`,a);let o=n.width(e,t,i);return o&&y_(r,`borderWidth`,o),r}function Gy(e,t){let n=e.series[t].points;return n._fill||n._stroke}function Ky(e,t){let n=e.series[t].points;return n._stroke||n._fill}function qy(e,t){return e.series[t].points.size}var Jy=[0,0];function Yy(e,t,n){return Jy[0]=t,Jy[1]=n,Jy}function Xy(e,t,n,r=!0){return e=>{e.button!=0||r&&e.target!=t||n(e)}}function Zy(e,t,n,r=!0){return e=>{r&&e.target!=t||n(e)}}var Qy={show:!0,x:!0,y:!0,lock:!1,move:Yy,points:{one:!1,show:Wy,size:qy,width:0,stroke:Ky,fill:Gy},bind:{mousedown:Xy,mouseup:Xy,click:Xy,dblclick:Xy,mousemove:Zy,mouseleave:Zy,mouseenter:Zy},drag:{setScale:!0,x:!0,y:!1,dist:0,uni:null,click:(e,t)=>{t.stopPropagation(),t.stopImmediatePropagation()},_x:!1,_y:!1},focus:{dist:(e,t,n,r,i)=>r-i,prox:-1,bias:0},hover:{skip:[void 0],prox:null,bias:0},left:-10,top:-10,idx:null,dataIdx:null,idxs:null,event:null},$y={show:!0,stroke:`rgba(0,0,0,0.07)`,width:2},eb=Uv({},$y,{filter:vv}),tb=Uv({},eb,{size:10}),nb=Uv({},$y,{show:!1}),rb=`12px system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, "Noto Sans", sans-serif, "Apple Color Emoji", "Segoe UI Emoji", "Segoe UI Symbol", "Noto Color Emoji"`,ib=`bold `+rb,ab=1.5,ob={show:!0,scale:`x`,stroke:Zg,space:50,gap:5,alignTo:1,size:50,labelGap:0,labelSize:30,labelFont:ib,side:2,grid:eb,ticks:tb,border:nb,font:rb,lineGap:ab,rotate:0},sb=`Value`,cb=`Time`,lb={show:!0,scale:`x`,auto:!1,sorted:1,min:dv,max:-1/0,idxs:[]};function ub(e,t,n,r,i){return t.map(e=>e==null?``:X_(e))}function db(e,t,n,r,i,a,o){let s=[],c=Ov.get(i)||0;n=o?n:Dv(Tv(n,i),c);for(let e=n;e<=r;e=Dv(e+i,c))s.push(Object.is(e,-0)?0:e);return s}function fb(e,t,n,r,i,a,o){let s=[],c=e.scales[e.axes[t].scale].log;i=av(c,ev((c==10?sv:cv)(n))),c==10&&(i=hy[M_(i,hy)]);let l=n,u=i*c;c==10&&(u=hy[M_(u,hy)]);do s.push(l),l+=i,c==10&&!Ov.has(l)&&(l=Dv(l,Ov.get(i))),l>=u&&(i=l,u=i*c,c==10&&(u=hy[M_(u,hy)]));while(l<=r);return s}function pb(e,t,n,r,i,a,o){let s=e.scales[e.axes[t].scale].asinh,c=r>s?fb(e,t,iv(s,n),r,i):[s],l=r>=0&&n<=0?[0]:[];return(n<-s?fb(e,t,iv(s,-r),-n,i):[s]).reverse().map(e=>-e).concat(l,c)}var mb=/./,hb=/[12357]/,gb=/[125]/,_b=/1/,vb=(e,t,n,r)=>e.map((e,i)=>t==4&&e==0||i%r==0&&n.test(e.toExponential()[+(e<0)])?e:null);function yb(e,t,n,r,i){let a=e.axes[n],o=a.scale,s=e.scales[o],c=e.valToPos,l=a._space,u=c(10,o),d=c(9,o)-u>=l?mb:c(7,o)-u>=l?hb:c(5,o)-u>=l?gb:_b;if(d==_b){let e=$_(c(1,o)-u);if(e<l)return vb(t.slice().reverse(),s.distr,d,nv(l/e)).reverse()}return vb(t,s.distr,d,1)}function bb(e,t,n,r,i){let a=e.axes[n],o=a.scale,s=a._space,c=e.valToPos,l=$_(c(1,o)-c(2,o));return l<s?vb(t.slice().reverse(),3,mb,nv(s/l)).reverse():t}function xb(e,t,n,r){return r==null?l_:t==null?``:X_(t)}var Sb={show:!0,scale:`y`,stroke:Zg,space:30,gap:5,alignTo:1,size:50,labelGap:0,labelSize:30,labelFont:ib,side:3,grid:eb,ticks:tb,border:nb,font:rb,lineGap:ab,rotate:0};function Cb(e,t){return Dv((3+(e||1)*2)*t,3)}function wb(e,t){let{scale:n,idxs:r}=e.series[0],i=e._data[0],a=e.valToPos(i[r[0]],n,!0),o=$_(e.valToPos(i[r[1]],n,!0)-a)/(e.series[t].points.space*m_);return r[1]-r[0]<=o}var Tb={scale:null,auto:!0,sorted:0,min:dv,max:-1/0},Eb=(e,t,n,r,i)=>i,Db={show:!0,auto:!0,sorted:0,gaps:Eb,alpha:1,facets:[Uv({},Tb,{scale:`x`}),Uv({},Tb,{scale:`y`})]},Ob={scale:`y`,auto:!0,sorted:0,show:!0,spanGaps:!1,gaps:Eb,alpha:1,points:{show:wb,filter:null},values:null,min:dv,max:-1/0,idxs:[],path:null,clip:null};function kb(e,t,n,r,i){return n/10}var Ab={time:wg,auto:!0,distr:1,log:10,asinh:1,min:null,max:null,dir:1,ori:0},jb=Uv({},Ab,{time:!1,ori:1}),Mb={};function Nb(e,t){let n=Mb[e];return n||(n={key:e,plots:[],sub(e){n.plots.push(e)},unsub(e){n.plots=n.plots.filter(t=>t!=e)},pub(e,t,r,i,a,o,s){for(let c=0;c<n.plots.length;c++)n.plots[c]!=t&&n.plots[c].pub(e,t,r,i,a,o,s)}},e!=null&&(Mb[e]=n)),n}var Pb=1,Fb=2;function Ib(e,t,n){let r=e.mode,i=e.series[t],a=r==2?e._data[t]:e._data,o=e.scales,s=e.bbox,c=a[0],l=r==2?a[1]:a[t],u=r==2?o[i.facets[0].scale]:o[e.series[0].scale],d=r==2?o[i.facets[1].scale]:o[i.scale],f=s.left,p=s.top,m=s.width,h=s.height,g=e.valToPosH,_=e.valToPosV;return u.ori==0?n(i,c,l,u,d,g,_,f,p,m,h,Gb,qb,Yb,Zb,$b):n(i,c,l,u,d,_,g,p,f,h,m,Kb,Jb,Xb,Qb,ex)}function Lb(e,t){let n=0,r=0,i=K_(e.bands,Mv);for(let e=0;e<i.length;e++){let a=i[e];a.series[0]==t?n=a.dir:a.series[1]==t&&(a.dir==1?r|=1:r|=2)}return[n,r==1?-1:r==2?1:r==3?2:0]}function Rb(e,t,n,r,i){let a=e.mode,o=e.series[t],s=a==2?o.facets[1].scale:o.scale,c=e.scales[s];return i==-1?c.min:i==1?c.max:c.distr==3?c.dir==1?c.min:c.max:0}function zb(e,t,n,r,i,a){return Ib(e,t,(e,t,o,s,c,l,u,d,f,p,m)=>{let h=e.pxRound,g=s.dir*(s.ori==0?1:-1),_=s.ori==0?qb:Jb,v,y;g==1?(v=n,y=r):(v=r,y=n);let b=h(l(t[v],s,p,d)),x=h(u(o[v],c,m,f)),S=h(l(t[y],s,p,d)),C=h(u(a==1?c.max:c.min,c,m,f)),w=new Path2D(i);return _(w,S,C),_(w,b,C),_(w,b,x),w})}function Bb(e,t,n,r,i,a){let o=null;if(e.length>0){o=new Path2D;let s=t==0?Yb:Xb,c=n;for(let t=0;t<e.length;t++){let n=e[t];if(n[1]>n[0]){let e=n[0]-c;e>0&&s(o,c,r,e,r+a),c=n[1]}}let l=n+i-c;l>0&&s(o,c,r-5,l,r+a+10)}return o}function Vb(e,t,n){let r=e[e.length-1];r&&r[0]==t?r[1]=n:e.push([t,n])}function Hb(e,t,n,r,i,a,o){let s=[],c=e.length;for(let l=i==1?n:r;l>=n&&l<=r;l+=i)if(t[l]===null){let u=l,d=l;if(i==1)for(;++l<=r&&t[l]===null;)d=l;else for(;--l>=n&&t[l]===null;)d=l;let f=a(e[u]),p=d==u?f:a(e[d]),m=u-i;f=o<=0&&m>=0&&m<c?a(e[m]):f;let h=d+i;p=o>=0&&h>=0&&h<c?a(e[h]):p,p>=f&&s.push([f,p])}return s}function Ub(e){return e==0?_v:e==1?tv:t=>wv(t,e)}function Wb(e){let t=e==0?Gb:Kb,n=e==0?(e,t,n,r,i,a)=>{e.arcTo(t,n,r,i,a)}:(e,t,n,r,i,a)=>{e.arcTo(n,t,i,r,a)},r=e==0?(e,t,n,r,i)=>{e.rect(t,n,r,i)}:(e,t,n,r,i)=>{e.rect(n,t,i,r)};return(e,i,a,o,s,c=0,l=0)=>{c==0&&l==0?r(e,i,a,o,s):(c=rv(c,o/2,s/2),l=rv(l,o/2,s/2),t(e,i+c,a),n(e,i+o,a,i+o,a+s,c),n(e,i+o,a+s,i,a+s,l),n(e,i,a+s,i,a,l),n(e,i,a,i+o,a,c),e.closePath())}}var Gb=(e,t,n)=>{e.moveTo(t,n)},Kb=(e,t,n)=>{e.moveTo(n,t)},qb=(e,t,n)=>{e.lineTo(t,n)},Jb=(e,t,n)=>{e.lineTo(n,t)},Yb=Wb(0),Xb=Wb(1),Zb=(e,t,n,r,i,a)=>{e.arc(t,n,r,i,a)},Qb=(e,t,n,r,i,a)=>{e.arc(n,t,r,i,a)},$b=(e,t,n,r,i,a,o)=>{e.bezierCurveTo(t,n,r,i,a,o)},ex=(e,t,n,r,i,a,o)=>{e.bezierCurveTo(n,t,i,r,o,a)};function tx(e){return(e,t,n,r,i)=>Ib(e,t,(t,a,o,s,c,l,u,d,f,p,m)=>{let{pxRound:h,points:g}=t,_,v;s.ori==0?(_=Gb,v=Zb):(_=Kb,v=Qb);let y=Dv(g.width*m_,3),b=(g.size-g.width)/2*m_,x=Dv(b*2,3),S=new Path2D,C=new Path2D,{left:w,top:T,width:E,height:D}=e.bbox;Yb(C,w-x,T-x,E+x*2,D+x*2);let O=e=>{if(o[e]!=null){let t=h(l(a[e],s,p,d)),n=h(u(o[e],c,m,f));_(S,t+b,n),v(S,t,n,b,0,Q_*2)}};if(i)i.forEach(O);else for(let e=n;e<=r;e++)O(e);return{stroke:y>0?S:null,fill:S,clip:C,flags:3}})}function nx(e){return(t,n,r,i,a,o)=>{r!=i&&(a!=r&&o!=r&&e(t,n,r),a!=i&&o!=i&&e(t,n,i),e(t,n,o))}}var rx=nx(qb),ix=nx(Jb);function ax(e){let t=K_(e?.alignGaps,0);return(e,n,r,i)=>Ib(e,n,(a,o,s,c,l,u,d,f,p,m,h)=>{[r,i]=I_(s,r,i);let g=a.pxRound,_=e=>g(u(e,c,m,f)),v=e=>g(d(e,l,h,p)),y,b;c.ori==0?(y=qb,b=rx):(y=Jb,b=ix);let x=c.dir*(c.ori==0?1:-1),S={stroke:new Path2D,fill:null,clip:null,band:null,gaps:null,flags:Pb},C=S.stroke,w=!1;if(i-r>=m*4){let t=t=>e.posToVal(t,c.key,!0),n=null,a=null,l,u,d,f=_(o[x==1?r:i]),p=_(o[r]),m=_(o[i]),h=t(x==1?p+1:m-1);for(let e=x==1?r:i;e>=r&&e<=i;e+=x){let r=o[e],i=(x==1?r<h:r>h)?f:_(r),c=s[e];i==f?c==null?c===null&&(w=!0):(u=c,n==null?(y(C,i,v(u)),l=n=a=u):u<n?n=u:u>a&&(a=u)):(n!=null&&b(C,f,v(n),v(a),v(l),v(u)),c==null?(n=a=null,c===null&&(w=!0)):(u=c,y(C,i,v(u)),n=a=l=u),f=i,h=t(f+x))}n!=null&&n!=a&&d!=f&&b(C,f,v(n),v(a),v(l),v(u))}else for(let e=x==1?r:i;e>=r&&e<=i;e+=x){let t=s[e];t===null?w=!0:t!=null&&y(C,_(o[e]),v(t))}let[T,E]=Lb(e,n);if(a.fill!=null||T!=0){let t=S.fill=new Path2D(C),s=v(a.fillTo(e,n,a.min,a.max,T)),c=_(o[r]),l=_(o[i]);x==-1&&([l,c]=[c,l]),y(t,l,s),y(t,c,s)}if(!a.spanGaps){let l=[];w&&l.push(...Hb(o,s,r,i,x,_,t)),S.gaps=l=a.gaps(e,n,r,i,l),S.clip=Bb(l,c.ori,f,p,m,h)}return E!=0&&(S.band=E==2?[zb(e,n,r,i,C,-1),zb(e,n,r,i,C,1)]:zb(e,n,r,i,C,E)),S})}function ox(e){let t=K_(e.align,1),n=K_(e.ascDesc,!1),r=K_(e.alignGaps,0),i=K_(e.extend,!1);return(e,a,o,s)=>Ib(e,a,(c,l,u,d,f,p,m,h,g,_,v)=>{[o,s]=I_(u,o,s);let y=c.pxRound,{left:b,width:x}=e.bbox,S=e=>y(p(e,d,_,h)),C=e=>y(m(e,f,v,g)),w=d.ori==0?qb:Jb,T={stroke:new Path2D,fill:null,clip:null,band:null,gaps:null,flags:Pb},E=T.stroke,D=d.dir*(d.ori==0?1:-1),O=C(u[D==1?o:s]),k=S(l[D==1?o:s]),A=k,j=k;i&&t==-1&&(j=b,w(E,j,O)),w(E,k,O);for(let e=D==1?o:s;e>=o&&e<=s;e+=D){let n=u[e];if(n==null)continue;let r=S(l[e]),i=C(n);t==1?w(E,r,O):w(E,A,i),w(E,r,i),O=i,A=r}let M=A;i&&t==1&&(M=b+x,w(E,M,O));let[N,ee]=Lb(e,a);if(c.fill!=null||N!=0){let t=T.fill=new Path2D(E),n=C(c.fillTo(e,a,c.min,c.max,N));w(t,M,n),w(t,j,n)}if(!c.spanGaps){let i=[];i.push(...Hb(l,u,o,s,D,S,r));let f=c.width*m_/2,p=n||t==1?f:-f,m=n||t==-1?-f:f;i.forEach(e=>{e[0]+=p,e[1]+=m}),T.gaps=i=c.gaps(e,a,o,s,i),T.clip=Bb(i,d.ori,h,g,_,v)}return ee!=0&&(T.band=ee==2?[zb(e,a,o,s,E,-1),zb(e,a,o,s,E,1)]:zb(e,a,o,s,E,ee)),T})}function sx(e,t,n,r,i,a,o=dv){if(e.length>1){let s=null;for(let c=0,l=1/0;c<e.length;c++)if(t[c]!==void 0){if(s!=null){let t=$_(e[c]-e[s]);t<l&&(l=t,o=$_(n(e[c],r,i,a)-n(e[s],r,i,a)))}s=c}}return o}function cx(e){e||=jv;let t=K_(e.size,[.6,dv,1]),n=e.align||0,r=e.gap||0,i=e.radius;i=i==null?[0,0]:typeof i==`number`?[i,0]:i;let a=hv(i),o=1-t[0],s=K_(t[1],dv),c=K_(t[2],1),l=K_(e.disp,jv),u=K_(e.each,e=>{}),{fill:d,stroke:f}=l;return(e,t,i,p)=>Ib(e,t,(m,h,g,_,v,y,b,x,S,C,w)=>{let T=m.pxRound,E=n,D=r*m_,O=s*m_,k=c*m_,A,j;_.ori==0?[A,j]=a(e,t):[j,A]=a(e,t);let M=_.dir*(_.ori==0?1:-1),N=_.ori==0?Yb:Xb,ee=_.ori==0?u:(e,t,n,r,i,a,o)=>{u(e,t,n,i,r,o,a)},te=K_(e.bands,Mv).find(e=>e.series[0]==t),ne=te==null?0:te.dir,re=m.fillTo(e,t,m.min,m.max,ne),P=T(b(re,v,w,S)),F,ie,I,ae=C,L=T(m.width*m_),oe=!1,R=null,se=null,ce=null,le=null;d!=null&&(L==0||f!=null)&&(oe=!0,R=d.values(e,t,i,p),se=new Map,new Set(R).forEach(e=>{e!=null&&se.set(e,new Path2D)}),L>0&&(ce=f.values(e,t,i,p),le=new Map,new Set(ce).forEach(e=>{e!=null&&le.set(e,new Path2D)})));let{x0:ue,size:de}=l;if(ue!=null&&de!=null){E=1,h=ue.values(e,t,i,p),ue.unit==2&&(h=h.map(t=>e.posToVal(x+t*C,_.key,!0)));let n=de.values(e,t,i,p);ie=de.unit==2?n[0]*C:y(n[0],_,C,x)-y(0,_,C,x),ae=sx(h,g,y,_,C,x,ae),I=ae-ie+D}else ae=sx(h,g,y,_,C,x,ae),I=ae*o+D,ie=ae-I;I<1&&(I=0),L>=ie/2&&(L=0),I<5&&(T=_v);let fe=I>0,pe=ae-I-(fe?L:0);ie=T(pv(pe,k,O)),F=(E==0?ie/2:E==M?0:ie)-E*M*((E==0?D/2:0)+(fe?L/2:0));let me={stroke:null,fill:null,clip:null,band:null,gaps:null,flags:0},he=oe?null:new Path2D,ge=null;if(te!=null)ge=e.data[te.series[1]];else{let{y0:n,y1:r}=l;n!=null&&r!=null&&(g=r.values(e,t,i,p),ge=n.values(e,t,i,p))}let _e=A*ie,ve=j*ie;for(let n=M==1?i:p;n>=i&&n<=p;n+=M){let r=g[n];if(r==null)continue;if(ge!=null){let e=ge[n]??0;if(r-e==0)continue;P=b(e,v,w,S)}let i=y(_.distr!=2||l!=null?h[n]:n,_,C,x),a=b(K_(r,re),v,w,S),o=T(i-F),s=T(iv(a,P)),c=T(rv(a,P)),u=s-c;if(r!=null){let i=r<0?ve:_e,a=r<0?_e:ve;oe?(L>0&&ce[n]!=null&&N(le.get(ce[n]),o,c+ev(L/2),ie,iv(0,u-L),i,a),R[n]!=null&&N(se.get(R[n]),o,c+ev(L/2),ie,iv(0,u-L),i,a)):N(he,o,c+ev(L/2),ie,iv(0,u-L),i,a),ee(e,t,n,o-L/2,c,ie+L,u)}}return L>0?me.stroke=oe?le:he:oe||(me._fill=m.width==0?m._fill:m._stroke??m._fill,me.width=0),me.fill=oe?se:he,me})}function lx(e,t){let n=K_(t?.alignGaps,0);return(t,r,i,a)=>Ib(t,r,(o,s,c,l,u,d,f,p,m,h,g)=>{[i,a]=I_(c,i,a);let _=o.pxRound,v=e=>_(d(e,l,h,p)),y=e=>_(f(e,u,g,m)),b,x,S;l.ori==0?(b=Gb,S=qb,x=$b):(b=Kb,S=Jb,x=ex);let C=l.dir*(l.ori==0?1:-1),w=v(s[C==1?i:a]),T=w,E=[],D=[];for(let e=C==1?i:a;e>=i&&e<=a;e+=C)if(c[e]!=null){let t=s[e],n=v(t);E.push(T=n),D.push(y(c[e]))}let O={stroke:e(E,D,b,S,x,_),fill:null,clip:null,band:null,gaps:null,flags:Pb},k=O.stroke,[A,j]=Lb(t,r);if(o.fill!=null||A!=0){let e=O.fill=new Path2D(k),n=y(o.fillTo(t,r,o.min,o.max,A));S(e,T,n),S(e,w,n)}if(!o.spanGaps){let e=[];e.push(...Hb(s,c,i,a,C,v,n)),O.gaps=e=o.gaps(t,r,i,a,e),O.clip=Bb(e,l.ori,p,m,h,g)}return j!=0&&(O.band=j==2?[zb(t,r,i,a,k,-1),zb(t,r,i,a,k,1)]:zb(t,r,i,a,k,j)),O})}function ux(e){return lx(dx,e)}function dx(e,t,n,r,i,a){let o=e.length;if(o<2)return null;let s=new Path2D;if(n(s,e[0],t[0]),o==2)r(s,e[1],t[1]);else{let n=Array(o),r=Array(o-1),a=Array(o-1),c=Array(o-1);for(let n=0;n<o-1;n++)a[n]=t[n+1]-t[n],c[n]=e[n+1]-e[n],r[n]=a[n]/c[n];n[0]=r[0];for(let e=1;e<o-1;e++)r[e]===0||r[e-1]===0||r[e-1]>0!=r[e]>0?n[e]=0:(n[e]=3*(c[e-1]+c[e])/((2*c[e]+c[e-1])/r[e-1]+(c[e]+2*c[e-1])/r[e]),isFinite(n[e])||(n[e]=0));n[o-1]=r[o-2];for(let r=0;r<o-1;r++)i(s,e[r]+c[r]/3,t[r]+n[r]*c[r]/3,e[r+1]-c[r]/3,t[r+1]-n[r+1]*c[r]/3,e[r+1],t[r+1])}return s}var fx=new Set;function px(){for(let e of fx)e.syncRect(!0)}u_&&(A_(a_,f_,px),A_(o_,f_,px,!0),A_(c_,f_,()=>{kx.pxRatio=m_}));var mx=ax(),hx=tx();function gx(e,t,n,r){return(r?[e[0],e[1]].concat(e.slice(2)):[e[0]].concat(e.slice(1))).map((e,r)=>vx(e,r,t,n))}function _x(e,t){return e.map((e,n)=>n==0?{}:Uv({},t,e))}function vx(e,t,n,r){return Uv({},t==0?n:r,e)}function yx(e,t,n){return t==null?Nv:[t,n]}var bx=yx;function xx(e,t,n){return t==null?Nv:G_(t,n,V_,!0)}function Sx(e,t,n,r){return t==null?Nv:z_(t,n,e.scales[r].log,!1)}var Cx=Sx;function wx(e,t,n,r){return t==null?Nv:B_(t,n,e.scales[r].log,!1)}var Tx=wx;function Ex(e,t,n,r,i){let a=iv(fv(e),fv(t)),o=t-e,s=M_(i/r*o,n);do{let e=n[s],t=r*e/o;if(t>=i&&a+(e<5?Ov.get(e):0)<=17)return[e,t]}while(++s<n.length);return[0,0]}function Dx(e){let t,n;return e=e.replace(/(\d+)px/,(e,r)=>(t=tv((n=+r)*m_))+`px`),[e,t,n]}function Ox(e){e.show&&[e.font,e.labelFont].forEach(e=>{let t=Dv(e[2]*m_,1);e[0]=e[0].replace(/[0-9.]+px/,t+`px`),e[1]=t})}function kx(e,t,n){let r={mode:K_(e.mode,1)},i=r.mode;function a(e,t,n,r){let i=t.valToPct(e);return r+n*(t.dir==-1?1-i:i)}function o(e,t,n,r){let i=t.valToPct(e);return r+n*(t.dir==-1?i:1-i)}function s(e,t,n,r){return t.ori==0?a(e,t,n,r):o(e,t,n,r)}r.valToPosH=a,r.valToPosV=o;let c=!1;r.status=0;let l=r.root=x_(Tg);if(e.id!=null&&(l.id=e.id),__(l,e.class),e.title){let t=x_(Og,l);t.textContent=e.title}let u=b_(`canvas`),d=r.ctx=u.getContext(`2d`),f=x_(kg,l);A_(`click`,f,e=>{e.target===m&&(en!=Xt||tn!=Zt)&&rn.click(r,e)},!0);let p=r.under=x_(Ag,f);f.appendChild(u);let m=r.over=x_(jg,f);e=Hv(e);let h=+K_(e.pxAlign,1),g=Ub(h);(e.plugins||[]).forEach(t=>{t.opts&&(e=t.opts(r,e)||e)});let _=e.ms||.001,v=r.series=i==1?gx(e.series||[],lb,Ob,!1):_x(e.series||[null],Db),y=r.axes=gx(e.axes||[],ob,Sb,!0),b=r.scales={},x=r.bands=e.bands||[];x.forEach(e=>{e.fill=hv(e.fill||null),e.dir=K_(e.dir,-1)});let S=i==2?v[1].facets[0].scale:v[0].scale,C={axes:Pt,series:wt},w=(e.drawOrder||[`axes`,`series`]).map(e=>C[e]);function T(e){let t=e.distr==3?t=>sv(t>0?t:e.clamp(r,t,e.min,e.max,e.key)):e.distr==4?t=>uv(t,e.asinh):e.distr==100?t=>e.fwd(t):e=>e;return n=>{let r=t(n),{_min:i,_max:a}=e,o=a-i;return(r-i)/o}}function E(t){let n=b[t];if(n==null){let r=(e.scales||jv)[t]||jv;if(r.from!=null){E(r.from);let e=Uv({},b[r.from],r,{key:t});e.valToPct=T(e),b[t]=e}else{n=b[t]=Uv({},t==S?Ab:jb,r),n.key=t;let e=n.time,a=n.range,o=Pv(a);if((t!=S||i==2&&!e)&&(o&&(a[0]==null||a[1]==null)&&(a={min:a[0]==null?H_:{mode:1,hard:a[0],soft:a[0]},max:a[1]==null?H_:{mode:1,hard:a[1],soft:a[1]}},o=!1),!o&&Rv(a))){let e=a;a=(t,n,r)=>n==null?Nv:G_(n,r,e)}n.range=hv(a||(e?bx:t==S?n.distr==3?Cx:n.distr==4?Tx:yx:n.distr==3?Sx:n.distr==4?wx:xx)),n.auto=hv(!o&&n.auto),n.clamp=hv(n.clamp||kb),n._min=n._max=null,n.valToPct=T(n)}}}E(`x`),E(`y`),i==1&&v.forEach(e=>{E(e.scale)}),y.forEach(e=>{E(e.scale)});for(let t in e.scales)E(t);let D=b[S],O=D.distr,k,A;D.ori==0?(__(l,Eg),k=a,A=o):(__(l,Dg),k=o,A=a);let j={};for(let e in b){let t=b[e];(t.min!=null||t.max!=null)&&(j[e]={min:t.min,max:t.max},t.min=t.max=null)}let M=e.tzDate||(e=>new Date(tv(e/_))),N=e.fmtDate||sy,ee=_==1?Ay(M):Ny(M),te=Fy(M,Py(_==1?ky:My,N)),ne=By(M,Ry(zy,N)),re=[],P=r.legend=Uv({},Uy,e.legend),F=r.cursor=Uv({},Qy,{drag:{y:i==2}},e.cursor),ie=P.show,I=F.show,ae=P.markers;P.idxs=re,ae.width=hv(ae.width),ae.dash=hv(ae.dash),ae.stroke=hv(ae.stroke),ae.fill=hv(ae.fill);let L,oe,R,se=[],ce=[],le,ue=!1,de={};if(P.live){let e=v[1]?v[1].values:null;ue=e!=null,le=ue?e(r,1,0):{_:0};for(let e in le)de[e]=l_}if(ie){if(L=b_(`table`,Rg,l),R=b_(`tbody`,null,L),P.mount(r,L),ue){oe=b_(`thead`,null,L,R);let e=b_(`tr`,null,oe);for(var fe in b_(`th`,null,e),le)b_(`th`,Ug,e).textContent=fe}else __(L,Bg),P.live&&__(L,zg)}let pe={show:!0},me={show:!1};function he(e,t){if(t==0&&(ue||!P.live||i==2))return Nv;let n=[],a=b_(`tr`,Vg,R,R.childNodes[t]);__(a,e.class),e.show||__(a,Ng);let o=b_(`th`,null,a);if(ae.show){let e=x_(Hg,o);if(t>0){let n=ae.width(r,t);n&&(e.style.border=n+`px `+ae.dash(r,t)+` `+ae.stroke(r,t)),e.style.background=ae.fill(r,t)}}let s=x_(Ug,o);for(var c in e.label instanceof HTMLElement?s.appendChild(e.label):s.textContent=e.label,t>0&&(ae.show||(s.style.color=e.width>0?ae.stroke(r,t):ae.fill(r,t)),_e(`click`,o,t=>{if(F._lock)return;ze(t);let n=v.indexOf(e);if((t.ctrlKey||t.metaKey)!=P.isolate){let e=v.some((e,t)=>t>0&&t!=n&&e.show);v.forEach((t,r)=>{r>0&&fn(r,e?r==n?pe:me:pe,!0,Yn.setSeries)})}else fn(n,{show:!e.show},!0,Yn.setSeries)},!1),Be&&_e(n_,o,t=>{F._lock||(ze(t),fn(v.indexOf(e),bn,!0,Yn.setSeries))},!1)),le){let e=b_(`td`,Wg,a);e.textContent=`--`,n.push(e)}return[a,n]}let ge=new Map;function _e(e,t,n,i=!0){let a=ge.get(t)||{},o=F.bind[e](r,t,n,i);o&&(A_(e,t,a[e]=o),ge.set(t,a))}function ve(e,t,n){let r=ge.get(t)||{};for(let n in r)(e==null||n==e)&&(j_(n,t,r[n]),delete r[n]);e??ge.delete(t)}let ye=0,z=0,B=0,V=0,be=0,H=0,xe=be,U=H,Se=B,Ce=V,we=0,Te=0,Ee=0,De=0;r.bbox={};let Oe=!1,ke=!1,Ae=!1,W=!1,je=!1,Me=!1;function Ne(e,t,n){(n||e!=r.width||t!=r.height)&&Pe(e,t),Ft(!1),Ae=!0,ke=!0,Bt()}function Pe(e,t){r.width=ye=B=e,r.height=z=V=t,be=H=0,Le(),Re();let n=r.bbox;we=n.left=wv(be*m_,.5),Te=n.top=wv(H*m_,.5),Ee=n.width=wv(B*m_,.5),De=n.height=wv(V*m_,.5)}function Fe(){let e=!1,t=0;for(;!e;){t++;let n=Mt(t),i=Nt(t);e=t==3||n&&i,e||(Pe(r.width,r.height),ke=!0)}}function Ie({width:e,height:t}){Ne(e,t)}r.setSize=Ie;function Le(){let e=!1,t=!1,n=!1,r=!1;y.forEach((i,a)=>{if(i.show&&i._show){let{side:a,_size:o}=i,s=a%2,c=o+(i.label==null?0:i.labelSize);c>0&&(s?(B-=c,a==3?(be+=c,r=!0):n=!0):(V-=c,a==0?(H+=c,e=!0):t=!0))}}),Ye[0]=e,Ye[1]=n,Ye[2]=t,Ye[3]=r,B-=$e[1]+$e[3],be+=$e[3],V-=$e[2]+$e[0],H+=$e[0]}function Re(){let e=be+B,t=H+V,n=be,r=H;function i(i,a){switch(i){case 1:return e+=a,e-a;case 2:return t+=a,t-a;case 3:return n-=a,n+a;case 0:return r-=a,r+a}}y.forEach((e,t)=>{if(e.show&&e._show){let t=e.side;e._pos=i(t,e._size),e.label!=null&&(e._lpos=i(t,e.labelSize))}})}if(F.dataIdx==null){let e=F.hover,n=e.skip=new Set(e.skip??[]);n.add(void 0);let r=e.prox=hv(e.prox),i=e.bias??=0;F.dataIdx=(e,a,o,s)=>{if(a==0)return o;let c=o,l=r(e,a,o,s)??dv,u=l>=0&&l<dv,d=D.ori==0?B:V,f=F.left,p=t[0],m=t[a];if(n.has(m[o])){c=null;let e=null,t=null,r;if(i==0||i==-1)for(r=o;e==null&&r-->0;)n.has(m[r])||(e=r);if(i==0||i==1)for(r=o;t==null&&r++<m.length;)n.has(m[r])||(t=r);if(e!=null||t!=null){if(u){let n=e==null?-1/0:k(p[e],D,d,0),r=t==null?1/0:k(p[t],D,d,0),i=f-n,a=r-f;i<=a?i<=l&&(c=e):a<=l&&(c=t)}else c=t==null?e:e==null?t:o-e<=t-o?e:t}}else u&&$_(f-k(p[o],D,d,0))>l&&(c=null);return c}}let ze=e=>{F.event=e};F.idxs=re,F._lock=!1;let G=F.points;G.show=hv(G.show),G.size=hv(G.size),G.stroke=hv(G.stroke),G.width=hv(G.width),G.fill=hv(G.fill);let K=r.focus=Uv({},e.focus||{alpha:.3},F.focus),Be=K.prox>=0,Ve=Be&&G.one,He=[],Ue=[],We=[];function Ge(e,t){let n=G.show(r,t);if(n instanceof HTMLElement)return __(n,Lg),__(n,e.class),C_(n,-10,-10,B,V),m.insertBefore(n,He[t]),n}function Ke(e,t){if(i==1||t>0){let t=i==1&&b[e.scale].time,n=e.value;e.value=t?Lv(n)?By(M,Ry(n,N)):n||ne:n||xb,e.label=e.label||(t?cb:sb)}if(Ve||t>0){e.width=e.width==null?1:e.width,e.paths=e.paths||mx||yv,e.fillTo=hv(e.fillTo||Rb),e.pxAlign=+K_(e.pxAlign,h),e.pxRound=Ub(e.pxAlign),e.stroke=hv(e.stroke||null),e.fill=hv(e.fill||null),e._stroke=e._fill=e._paths=e._focus=null;let t=Cb(iv(1,e.width),1),n=e.points=Uv({},{size:t,width:iv(1,t*.2),stroke:e.stroke,space:t*2,paths:hx,_stroke:null,_fill:null},e.points);n.show=hv(n.show),n.filter=hv(n.filter),n.fill=hv(n.fill),n.stroke=hv(n.stroke),n.paths=hv(n.paths),n.pxAlign=e.pxAlign}if(ie){let n=he(e,t);se.splice(t,0,n[0]),ce.splice(t,0,n[1]),P.values.push(null)}if(I){re.splice(t,0,null);let n=null;Ve?t==0&&(n=Ge(e,t)):t>0&&(n=Ge(e,t)),He.splice(t,0,n),Ue.splice(t,0,0),We.splice(t,0,0)}qn(`addSeries`,t)}function qe(e,t){t??=v.length,e=i==1?vx(e,t,lb,Ob):vx(e,t,{},Db),v.splice(t,0,e),Ke(v[t],t)}r.addSeries=qe;function Je(e){if(v.splice(e,1),ie){P.values.splice(e,1),ce.splice(e,1);let t=se.splice(e,1)[0];ve(null,t.firstChild),t.remove()}I&&(re.splice(e,1),He.splice(e,1)[0].remove(),Ue.splice(e,1),We.splice(e,1)),qn(`delSeries`,e)}r.delSeries=Je;let Ye=[!1,!1,!1,!1];function Xe(e,t){if(e._show=e.show,e.show){let n=e.side%2,i=b[e.scale];i??=(e.scale=n?v[1].scale:S,b[e.scale]);let a=i.time;e.size=hv(e.size),e.space=hv(e.space),e.rotate=hv(e.rotate),Pv(e.incrs)&&e.incrs.forEach(e=>{!Ov.has(e)&&Ov.set(e,kv(e))}),e.incrs=hv(e.incrs||(i.distr==2?my:a?_==1?Oy:jy:hy)),e.splits=hv(e.splits||(a&&i.distr==1?ee:i.distr==3?fb:i.distr==4?pb:db)),e.stroke=hv(e.stroke),e.grid.stroke=hv(e.grid.stroke),e.ticks.stroke=hv(e.ticks.stroke),e.border.stroke=hv(e.border.stroke);let o=e.values;e.values=Pv(o)&&!Pv(o[0])?hv(o):a?Pv(o)?Fy(M,Py(o,N)):Lv(o)?Iy(M,o):o||te:o||ub,e.filter=hv(e.filter||(i.distr>=3&&i.log==10?yb:i.distr==3&&i.log==2?bb:vv)),e.font=Dx(e.font),e.labelFont=Dx(e.labelFont),e._size=e.size(r,null,t,0),e._space=e._rotate=e._incrs=e._found=e._splits=e._values=null,e._size>0&&(Ye[t]=!0,e._el=x_(Mg,f))}}function Ze(e,t,n,r){let[i,a,o,s]=n,c=t%2,l=0;return c==0&&(s||a)&&(l=t==0&&!i||t==2&&!o?tv(ob.size/3):0),c==1&&(i||o)&&(l=t==1&&!a||t==3&&!s?tv(Sb.size/2):0),l}let Qe=r.padding=(e.padding||[Ze,Ze,Ze,Ze]).map(e=>hv(K_(e,Ze))),$e=r._padding=Qe.map((e,t)=>e(r,t,Ye,0)),et,tt=null,nt=null,rt=i==1?v[0].idxs:null,it=null,at=!1;function ot(e,n){if(t=e??[],r.data=r._data=t,i==2){et=0;for(let e=1;e<v.length;e++)et+=t[e][0].length}else{t.length==0&&(r.data=r._data=t=[[]]),it=t[0],et=it.length;let e=t;if(O==2){e=t.slice();let n=e[0]=Array(et);for(let e=0;e<et;e++)n[e]=e}r._data=t=e}if(Ft(!0),qn(`setData`),O==2&&(Ae=!0),n!==!1){let e=D;e.auto(r,at)?st():dn(S,e.min,e.max),W||=F.left>=0,Me=!0,Bt()}}r.setData=ot;function st(){at=!0;let e,n;i==1&&(et>0?(tt=rt[0]=0,nt=rt[1]=et-1,e=t[0][tt],n=t[0][nt],O==2?(e=tt,n=nt):e==n&&(O==3?[e,n]=z_(e,e,D.log,!1):O==4?[e,n]=B_(e,e,D.log,!1):D.time?n=e+tv(86400/_):[e,n]=G_(e,n,V_,!0))):(tt=rt[0]=e=null,nt=rt[1]=n=null)),dn(S,e,n)}let ct,lt,ut,dt,ft,pt,mt,ht,gt,_t;function vt(e,t,n,r,i,a){e??=Qg,n??=Mv,r??=`butt`,i??=Qg,a??=`round`,e!=ct&&(d.strokeStyle=ct=e),i!=lt&&(d.fillStyle=lt=i),t!=ut&&(d.lineWidth=ut=t),a!=ft&&(d.lineJoin=ft=a),r!=pt&&(d.lineCap=pt=r),n!=dt&&d.setLineDash(dt=n)}function yt(e,t,n,r){t!=lt&&(d.fillStyle=lt=t),e!=mt&&(d.font=mt=e),n!=ht&&(d.textAlign=ht=n),r!=gt&&(d.textBaseline=gt=r)}function bt(e,t,n,i,a=0){if(i.length>0&&e.auto(r,at)&&(t==null||t.min==null)){let t=K_(tt,0),r=K_(nt,i.length-1),o=n.min==null?R_(i,t,r,a,e.distr==3):[n.min,n.max];e.min=rv(e.min,n.min=o[0]),e.max=iv(e.max,n.max=o[1])}}let xt={min:null,max:null};function St(){for(let e in b){let t=b[e];j[e]==null&&(t.min==null||j[S]!=null&&t.auto(r,at))&&(j[e]=xt)}for(let e in b){let t=b[e];j[e]==null&&t.from!=null&&j[t.from]!=null&&(j[e]=xt)}j[S]!=null&&Ft(!0);let e={};for(let t in j){let n=j[t];if(n!=null){let a=e[t]=Hv(b[t],zv);if(n.min!=null)Uv(a,n);else if(t!=S||i==2){if(et==0&&a.from==null){let e=a.range(r,null,null,t);a.min=e[0],a.max=e[1]}else a.min=dv,a.max=-1/0}}}if(et>0){v.forEach((n,a)=>{if(i==1){let i=n.scale,o=j[i];if(o==null)return;let s=e[i];if(a==0){let e=s.range(r,s.min,s.max,i);s.min=e[0],s.max=e[1],tt=M_(s.min,t[0]),nt=M_(s.max,t[0]),nt-tt>1&&(t[0][tt]<s.min&&tt++,t[0][nt]>s.max&&nt--),n.min=it[tt],n.max=it[nt]}else n.show&&n.auto&&bt(s,o,n,t[a],n.sorted);n.idxs[0]=tt,n.idxs[1]=nt}else if(a>0&&n.show&&n.auto){let[r,i]=n.facets,o=r.scale,s=i.scale,[c,l]=t[a],u=e[o],d=e[s];u!=null&&bt(u,j[o],r,c,r.sorted),d!=null&&bt(d,j[s],i,l,i.sorted),n.min=i.min,n.max=i.max}});for(let t in e){let n=e[t],i=j[t];if(n.from==null&&(i==null||i.min==null)){let e=n.range(r,n.min==dv?null:n.min,n.max==-1/0?null:n.max,t);n.min=e[0],n.max=e[1]}}}for(let t in e){let n=e[t];if(n.from!=null){let i=e[n.from];if(i.min==null)n.min=n.max=null;else{let e=n.range(r,i.min,i.max,t);n.min=e[0],n.max=e[1]}}}let n={},a=!1;for(let t in e){let r=e[t],i=b[t];if(i.min!=r.min||i.max!=r.max){i.min=r.min,i.max=r.max;let e=i.distr;i._min=e==3?sv(i.min):e==4?uv(i.min,i.asinh):e==100?i.fwd(i.min):i.min,i._max=e==3?sv(i.max):e==4?uv(i.max,i.asinh):e==100?i.fwd(i.max):i.max,n[t]=a=!0}}if(a){v.forEach((e,t)=>{i==2?t>0&&n.y&&(e._paths=null):n[e.scale]&&(e._paths=null)});for(let e in n)Ae=!0,qn(`setScale`,e);I&&F.left>=0&&(W=Me=!0)}for(let e in j)j[e]=null}function Ct(e){let t=pv(tt-1,0,et-1),n=pv(nt+1,0,et-1);for(;e[t]==null&&t>0;)t--;for(;e[n]==null&&n<et-1;)n++;return[t,n]}function wt(){if(et>0){let e=v.some(e=>e._focus)&&_t!=K.alpha;e&&(d.globalAlpha=_t=K.alpha),v.forEach((e,n)=>{if(n>0&&e.show&&(Tt(n,!1),Tt(n,!0),e._paths==null)){let a=_t;_t!=e.alpha&&(d.globalAlpha=_t=e.alpha);let o=i==2?[0,t[n][0].length-1]:Ct(t[n]);e._paths=e.paths(r,n,o[0],o[1]),_t!=a&&(d.globalAlpha=_t=a)}}),v.forEach((e,t)=>{if(t>0&&e.show){let n=_t;_t!=e.alpha&&(d.globalAlpha=_t=e.alpha),e._paths!=null&&q(t,!1);{let n=e._paths==null?null:e._paths.gaps,i=e.points.show(r,t,tt,nt,n),a=e.points.filter(r,t,i,n);(i||a)&&(e.points._paths=e.points.paths(r,t,tt,nt,a),q(t,!0))}_t!=n&&(d.globalAlpha=_t=n),qn(`drawSeries`,t)}}),e&&(d.globalAlpha=_t=1)}}function Tt(e,t){let n=t?v[e].points:v[e];n._stroke=n.stroke(r,e),n._fill=n.fill(r,e)}function q(e,t){let n=t?v[e].points:v[e],{stroke:r,fill:i,clip:a,flags:o,_stroke:s=n._stroke,_fill:c=n._fill,_width:l=n.width}=n._paths;l=Dv(l*m_,3);let u=null,f=l%2/2;t&&c==null&&(c=l>0?`#fff`:s);let p=n.pxAlign==1&&f>0;if(p&&d.translate(f,f),!t){let e=we-l/2,t=Te-l/2,n=Ee+l,r=De+l;u=new Path2D,u.rect(e,t,n,r)}t?Dt(s,l,n.dash,n.cap,c,r,i,o,a):Et(e,s,l,n.dash,n.cap,c,r,i,o,u,a),p&&d.translate(-f,-f)}function Et(e,n,i,a,o,s,c,l,u,d,f){let p=!1;u!=0&&x.forEach((m,h)=>{if(m.series[0]==e){let e=v[m.series[1]],g=t[m.series[1]],_=(e._paths||jv).band;Pv(_)&&(_=m.dir==1?_[0]:_[1]);let y,b=null;e.show&&_&&q_(g,tt,nt)?(b=m.fill(r,h)||s,y=e._paths.clip):_=null,Dt(n,i,a,o,b,c,l,u,d,f,y,_),p=!0}}),p||Dt(n,i,a,o,s,c,l,u,d,f)}function Dt(e,t,n,r,i,a,o,s,c,l,u,f){vt(e,t,n,r,i),(c||l||f)&&(d.save(),c&&d.clip(c),l&&d.clip(l)),f?(s&3)==3?(d.clip(f),u&&d.clip(u),kt(i,o),Ot(e,a,t)):s&Fb?(kt(i,o),d.clip(f),Ot(e,a,t)):s&Pb&&(d.save(),d.clip(f),u&&d.clip(u),kt(i,o),d.restore(),Ot(e,a,t)):(kt(i,o),Ot(e,a,t)),(c||l||f)&&d.restore()}function Ot(e,t,n){n>0&&(t instanceof Map?t.forEach((e,t)=>{d.strokeStyle=ct=t,d.stroke(e)}):t!=null&&e&&d.stroke(t))}function kt(e,t){t instanceof Map?t.forEach((e,t)=>{d.fillStyle=lt=t,d.fill(e)}):t!=null&&e&&d.fill(t)}function At(e,t,n,i){let a=y[e],o;if(i<=0)o=[0,0];else{let s=a._space=a.space(r,e,t,n,i);o=Ex(t,n,a._incrs=a.incrs(r,e,t,n,i,s),i,s)}return a._found=o}function jt(e,t,n,r,i,a,o,s,c,l){let u=o%2/2;h==1&&d.translate(u,u),vt(s,o,c,l,s),d.beginPath();let f,p,m,g,_=i+(r==0||r==3?-a:a);n==0?(p=i,g=_):(f=i,m=_);for(let r=0;r<e.length;r++)t[r]!=null&&(n==0?f=m=e[r]:p=g=e[r],d.moveTo(f,p),d.lineTo(m,g));d.stroke(),h==1&&d.translate(-u,-u)}function Mt(e){let t=!0;return y.forEach((n,i)=>{if(!n.show)return;let a=b[n.scale];if(a.min==null){n._show&&(t=!1,n._show=!1,Ft(!1));return}n._show||(t=!1,n._show=!0,Ft(!1));let o=n.side,s=o%2,{min:c,max:l}=a,[u,d]=At(i,c,l,s==0?B:V);if(d==0)return;let f=a.distr==2,p=n._splits=n.splits(r,i,c,l,u,d,f),m=a.distr==2?p.map(e=>it[e]):p,h=a.distr==2?it[p[1]]-it[p[0]]:u,g=n._values=n.values(r,n.filter(r,m,i,d,h),i,d,h);n._rotate=o==2?n.rotate(r,g,i,d):0;let _=n._size;n._size=nv(n.size(r,g,i,e)),_!=null&&n._size!=_&&(t=!1)}),t}function Nt(e){let t=!0;return Qe.forEach((n,i)=>{let a=n(r,i,Ye,e);a!=$e[i]&&(t=!1),$e[i]=a}),t}function Pt(){for(let e=0;e<y.length;e++){let t=y[e];if(!t.show||!t._show)continue;let n=t.side,i=n%2,a,o,c=t.stroke(r,e),l=n==0||n==3?-1:1,[u,f]=t._found;if(t.label!=null){let s=t.labelGap*l,p=tv((t._lpos+s)*m_);yt(t.labelFont[0],c,`center`,n==2?qg:Jg),d.save(),i==1?(a=o=0,d.translate(p,tv(Te+De/2)),d.rotate((n==3?-Q_:Q_)/2)):(a=tv(we+Ee/2),o=p);let m=mv(t.label)?t.label(r,e,u,f):t.label;d.fillText(m,a,o),d.restore()}if(f==0)continue;let p=b[t.scale],m=i==0?Ee:De,h=i==0?we:Te,_=t._splits,v=p.distr==2?_.map(e=>it[e]):_,x=p.distr==2?it[_[1]]-it[_[0]]:u,S=t.ticks,C=t.border,w=S.show?S.size:0,T=tv(w*m_),E=tv((t.alignTo==2?t._size-w-t.gap:t.gap)*m_),D=t._rotate*-Q_/180,O=g(t._pos*m_),k=O+(T+E)*l;o=i==0?k:0,a=i==1?k:0;let A=t.font[0];yt(A,c,t.align==1?Yg:t.align==2?Xg:D>0?Yg:D<0?Xg:i==0?`center`:n==3?Xg:Yg,D||i==1?`middle`:n==2?qg:Jg);let j=t.font[1]*t.lineGap,M=_.map(e=>g(s(e,p,m,h))),N=t._values;for(let e=0;e<N.length;e++){let t=N[e];if(t!=null){i==0?a=M[e]:o=M[e],t=``+t;let n=t.indexOf(`
`)==-1?[t]:t.split(/\n/gm);for(let e=0;e<n.length;e++){let t=n[e];D?(d.save(),d.translate(a,o+e*j),d.rotate(D),d.fillText(t,0,0),d.restore()):d.fillText(t,a,o+e*j)}}}S.show&&jt(M,S.filter(r,v,e,f,x),i,n,O,T,Dv(S.width*m_,3),S.stroke(r,e),S.dash,S.cap);let ee=t.grid;ee.show&&jt(M,ee.filter(r,v,e,f,x),i,i==0?2:1,i==0?Te:we,i==0?De:Ee,Dv(ee.width*m_,3),ee.stroke(r,e),ee.dash,ee.cap),C.show&&jt([O],[1],+(i==0),i==0?1:2,i==1?Te:we,i==1?De:Ee,Dv(C.width*m_,3),C.stroke(r,e),C.dash,C.cap)}qn(`drawAxes`)}function Ft(e){v.forEach((t,n)=>{n>0&&(t._paths=null,e&&(i==1?(t.min=null,t.max=null):t.facets.forEach(e=>{e.min=null,e.max=null})))})}let It=!1,Lt=!1,Rt=[];function zt(){Lt=!1;for(let e=0;e<Rt.length;e++)qn(...Rt[e]);Rt.length=0}function Bt(){It||=(Yv(Ht),!0)}function Vt(e,t=!1){It=!0,Lt=t,e(r),Ht(),t&&Rt.length>0&&queueMicrotask(zt)}r.batch=Vt;function Ht(){if(Oe&&=(St(),!1),Ae&&=(Fe(),!1),ke){if(y_(p,Yg,be),y_(p,qg,H),y_(p,Gg,B),y_(p,Kg,V),y_(m,Yg,be),y_(m,qg,H),y_(m,Gg,B),y_(m,Kg,V),y_(f,Gg,ye),y_(f,Kg,z),u.width=tv(ye*m_),u.height=tv(z*m_),y.forEach(({_el:e,_show:t,_size:n,_pos:r,side:i})=>{if(e!=null){if(t){let t=i===3||i===0?n:0,a=i%2==1;y_(e,a?`left`:`top`,r-t),y_(e,a?`width`:`height`,n),y_(e,a?`top`:`left`,a?H:be),y_(e,a?`height`:`width`,a?V:B),v_(e,Ng)}else __(e,Ng)}}),ct=lt=ut=ft=pt=mt=ht=gt=dt=null,_t=1,Nn(!0),be!=xe||H!=U||B!=Se||V!=Ce){Ft(!1);let e=B/Se,t=V/Ce;if(I&&!W&&F.left>=0){F.left*=e,F.top*=t,Kt&&C_(Kt,tv(F.left),0,B,V),qt&&C_(qt,0,tv(F.top),B,V);for(let n=0;n<He.length;n++){let r=He[n];r!=null&&(Ue[n]*=e,We[n]*=t,C_(r,nv(Ue[n]),nv(We[n]),B,V))}}if(sn.show&&!je&&sn.left>=0&&sn.width>0){sn.left*=e,sn.width*=e,sn.top*=t,sn.height*=t;for(let e in Fn)y_(cn,e,sn[e])}xe=be,U=H,Se=B,Ce=V}qn(`setSize`),ke=!1}ye>0&&z>0&&(d.clearRect(0,0,u.width,u.height),qn(`drawClear`),w.forEach(e=>e()),qn(`draw`)),sn.show&&je&&(ln(sn),je=!1),I&&W&&(jn(null,!0,!1),W=!1),P.show&&P.live&&Me&&(kn(),Me=!1),c||(c=!0,r.status=1,qn(`ready`)),at=!1,It=!1}r.redraw=(e,t)=>{Ae=t||!1,e===!1?Bt():dn(S,D.min,D.max)};function Ut(e,n){let i=b[e];if(i.from==null){if(et==0){let t=i.range(r,n.min,n.max,e);n.min=t[0],n.max=t[1]}if(n.min>n.max){let e=n.min;n.min=n.max,n.max=e}if(et>1&&n.min!=null&&n.max!=null&&n.max-n.min<1e-16)return;e==S&&i.distr==2&&et>0&&(n.min=M_(n.min,t[0]),n.max=M_(n.max,t[0]),n.min==n.max&&n.max++),j[e]=n,Oe=!0,Bt()}}r.setScale=Ut;let Wt,Gt,Kt,qt,Jt,Yt,Xt,Zt,Qt,$t,en,tn,nn=!1,rn=F.drag,an=rn.x,on=rn.y;I&&(F.x&&(Wt=x_(Fg,m)),F.y&&(Gt=x_(Ig,m)),D.ori==0?(Kt=Wt,qt=Gt):(Kt=Gt,qt=Wt),en=F.left,tn=F.top);let sn=r.select=Uv({show:!0,over:!0,left:0,width:0,top:0,height:0},e.select),cn=sn.show?x_(Pg,sn.over?m:p):null;function ln(e,t){if(sn.show){for(let t in e)sn[t]=e[t],t in Fn&&y_(cn,t,e[t]);t!==!1&&qn(`setSelect`)}}r.setSelect=ln;function un(e){if(v[e].show)ie&&v_(se[e],Ng);else if(ie&&__(se[e],Ng),I){let t=Ve?He[0]:He[e];t!=null&&C_(t,-10,-10,B,V)}}function dn(e,t,n){Ut(e,{min:t,max:n})}function fn(e,t,n,a){t.focus!=null&&xn(e),t.show!=null&&v.forEach((n,r)=>{r>0&&(e==r||e==null)&&(n.show=t.show,un(r),i==2?(dn(n.facets[0].scale,null,null),dn(n.facets[1].scale,null,null)):dn(n.scale,null,null),Bt())}),n!==!1&&qn(`setSeries`,e,t),a&&Qn(`setSeries`,r,e,t)}r.setSeries=fn;function pn(e,t){Uv(x[e],t)}function mn(e,t){e.fill=hv(e.fill||null),e.dir=K_(e.dir,-1),t??=x.length,x.splice(t,0,e)}function hn(e){e==null?x.length=0:x.splice(e,1)}r.addBand=mn,r.setBand=pn,r.delBand=hn;function gn(e,t){v[e].alpha=t,I&&He[e]!=null&&(He[e].style.opacity=t),ie&&se[e]&&(se[e].style.opacity=t)}let _n,vn,yn,bn={focus:!0};function xn(e){if(e!=yn){let t=e==null,n=K.alpha!=1;v.forEach((r,a)=>{if(i==1||a>0){let i=t||a==0||a==e;r._focus=t?null:i,n&&gn(a,i?1:K.alpha)}}),yn=e,n&&Bt()}}ie&&Be&&_e(r_,L,e=>{F._lock||(ze(e),yn!=null&&fn(null,bn,!0,Yn.setSeries))});function Sn(e,t,n){let r=b[t];n&&(e=e/m_-(r.ori==1?H:be));let i=B;r.ori==1&&(i=V,e=i-e),r.dir==-1&&(e=i-e);let a=r._min,o=r._max,s=e/i,c=a+(o-a)*s,l=r.distr;return l==3?av(10,c):l==4?lv(c,r.asinh):l==100?r.bwd(c):c}function Cn(e,n){return M_(Sn(e,S,n),t[0],tt,nt)}r.valToIdx=e=>M_(e,t[0]),r.posToIdx=Cn,r.posToVal=Sn,r.valToPos=(e,t,n)=>b[t].ori==0?a(e,b[t],n?Ee:B,n?we:0):o(e,b[t],n?De:V,n?Te:0),r.setCursor=(e,t,n)=>{en=e.left,tn=e.top,jn(null,t,n)};function wn(e,t){y_(cn,Yg,sn.left=e),y_(cn,Gg,sn.width=t)}function Tn(e,t){y_(cn,qg,sn.top=e),y_(cn,Kg,sn.height=t)}let En=D.ori==0?wn:Tn,Dn=D.ori==1?wn:Tn;function On(){if(ie&&P.live)for(let e=+(i==2);e<v.length;e++){if(e==0&&ue)continue;let t=P.values[e],n=0;for(let r in t)ce[e][n++].firstChild.nodeValue=t[r]}}function kn(e,t){if(e!=null&&(e.idxs?e.idxs.forEach((e,t)=>{re[t]=e}):Iv(e.idx)||re.fill(e.idx),P.idx=re[0]),ie&&P.live){for(let e=0;e<v.length;e++)(e>0||i==1&&!ue)&&An(e,re[e]);On()}Me=!1,t!==!1&&qn(`setLegend`)}r.setLegend=kn;function An(e,n){let i=v[e],a=e==0&&O==2?it:t[e],o;ue?o=i.values(r,e,n)??de:(o=i.value(r,n==null?null:a[n],e,n),o=o==null?de:{_:o}),P.values[e]=o}function jn(e,n,a){Qt=en,$t=tn,[en,tn]=F.move(r,en,tn),F.left=en,F.top=tn,I&&(Kt&&C_(Kt,tv(en),0,B,V),qt&&C_(qt,0,tv(tn),B,V));let o,s=tt>nt;_n=dv,vn=null;let c=D.ori==0?B:V,l=D.ori==1?B:V;if(en<0||et==0||s){o=F.idx=null;for(let e=0;e<v.length;e++){let t=He[e];t!=null&&C_(t,-10,-10,B,V)}Be&&fn(null,bn,!0,e==null&&Yn.setSeries),P.live&&(re.fill(o),Me=!0)}else{let e,n,a;i==1&&(e=D.ori==0?en:tn,n=Sn(e,S),o=F.idx=M_(n,t[0],tt,nt),a=k(t[0][o],D,c,0));let s=-10,u=-10,d=0,f=0,p=!0,m=``,h=``;for(let e=+(i==2);e<v.length;e++){let g=v[e],_=re[e],y=_==null?null:i==1?t[e][_]:t[e][1][_],x=F.dataIdx(r,e,o,n),S=x==null?null:i==1?t[e][x]:t[e][1][x];if(Me=Me||S!=y||x!=_,re[e]=x,e>0&&g.show){let n=x==null?-10:x==o?a:k(i==1?t[0][x]:t[e][0][x],D,c,0),_=S==null?-10:A(S,i==1?b[g.scale]:b[g.facets[1].scale],l,0);if(Be&&S!=null){let t=D.ori==1?en:tn,n=$_(K.dist(r,e,x,_,t));if(n<_n){let r=K.bias;if(r!=0){let i=Sn(t,g.scale),a=S>=0?1:-1,o=i>=0?1:-1;o==a&&(o==1?r==1?S>=i:S<=i:r==1?S<=i:S>=i)&&(_n=n,vn=e)}else _n=n,vn=e}}if(Me||Ve){let t,i;D.ori==0?(t=n,i=_):(t=_,i=n);let a,o,c,l,g,v,y=!0,b=G.bbox;if(b!=null){y=!1;let t=b(r,e);c=t.left,l=t.top,a=t.width,o=t.height}else c=t,l=i,a=o=G.size(r,e);if(v=G.fill(r,e),g=G.stroke(r,e),Ve)e==vn&&_n<=K.prox&&(s=c,u=l,d=a,f=o,p=y,m=v,h=g);else{let t=He[e];t!=null&&(Ue[e]=c,We[e]=l,D_(t,a,o,y),T_(t,v,g),C_(t,nv(c),nv(l),B,V))}}}}if(Ve){let e=K.prox;if(Me||(yn==null?_n<=e:_n>e||vn!=yn)){let e=He[0];e!=null&&(Ue[0]=s,We[0]=u,D_(e,d,f,p),T_(e,m,h),C_(e,nv(s),nv(u),B,V))}}}if(sn.show&&nn){if(e!=null){let[t,n]=Yn.scales,[r,i]=Yn.match,[a,o]=e.cursor.sync.scales,s=e.cursor.drag;if(an=s._x,on=s._y,an||on){let{left:s,top:u,width:d,height:f}=e.select,p=e.scales[a].ori,m=e.posToVal,h,g,_,v,y,x=t!=null&&r(t,a),S=n!=null&&i(n,o);x&&an?(p==0?(h=s,g=d):(h=u,g=f),_=b[t],v=k(m(h,a),_,c,0),y=k(m(h+g,a),_,c,0),En(rv(v,y),$_(y-v))):En(0,c),S&&on?(p==1?(h=s,g=d):(h=u,g=f),_=b[n],v=A(m(h,o),_,l,0),y=A(m(h+g,o),_,l,0),Dn(rv(v,y),$_(y-v))):Dn(0,l)}else In()}else{let e=$_(Qt-Jt),t=$_($t-Yt);if(D.ori==1){let n=e;e=t,t=n}an=rn.x&&e>=rn.dist,on=rn.y&&t>=rn.dist;let n=rn.uni;n==null?rn.x&&rn.y&&(an||on)&&(an=on=!0):an&&on&&(an=e>=n,on=t>=n,!an&&!on&&(t>e?on=!0:an=!0));let r,i;an&&(D.ori==0?(r=Xt,i=en):(r=Zt,i=tn),En(rv(r,i),$_(i-r)),on||Dn(0,l)),on&&(D.ori==1?(r=Xt,i=en):(r=Zt,i=tn),Dn(rv(r,i),$_(i-r)),an||En(0,c)),!an&&!on&&(En(0,0),Dn(0,0))}}if(rn._x=an,rn._y=on,e==null){if(a){if(Xn!=null){let[e,t]=Yn.scales;Yn.values[0]=e==null?null:Sn(D.ori==0?en:tn,e),Yn.values[1]=t==null?null:Sn(D.ori==1?en:tn,t)}Qn($g,r,en,tn,B,V,o)}if(Be){let e=a&&Yn.setSeries,t=K.prox;yn==null?_n<=t&&fn(vn,bn,!0,e):_n>t?fn(null,bn,!0,e):vn!=yn&&fn(vn,bn,!0,e)}}Me&&(P.idx=o,kn()),n!==!1&&qn(`setCursor`)}let Mn=null;Object.defineProperty(r,"rect",{get(){return Mn??Nn(!1),Mn}});function Nn(e=!1){e?Mn=null:(Mn=m.getBoundingClientRect(),qn(`syncRect`,Mn))}function J(e,t,n,r,i,a,o){F._lock||nn&&e!=null&&e.movementX==0&&e.movementY==0||(Pn(e,t,n,r,i,a,o,!1,e!=null),e==null?jn(t,!0,!1):jn(null,!0,!0))}function Pn(e,t,n,i,a,o,c,l,u){if(Mn??Nn(!1),ze(e),e!=null)n=e.clientX-Mn.left,i=e.clientY-Mn.top;else{if(n<0||i<0){en=-10,tn=-10;return}let[e,r]=Yn.scales,c=t.cursor.sync,[l,u]=c.values,[d,f]=c.scales,[p,m]=Yn.match,h=t.axes[0].side%2==1,g=D.ori==0?B:V,_=D.ori==1?B:V,v=h?o:a,y=h?a:o,x=h?i:n,S=h?n:i;if(n=d==null?x/v*g:p(e,d)?s(l,b[e],g,0):-10,i=f==null?S/y*_:m(r,f)?s(u,b[r],_,0):-10,D.ori==1){let e=n;n=i,i=e}}u&&(t==null||t.cursor.event.type==$g)&&((n<=1||n>=B-1)&&(n=wv(n,B)),(i<=1||i>=V-1)&&(i=wv(i,V))),l?(Jt=n,Yt=i,[Xt,Zt]=F.move(r,n,i)):(en=n,tn=i)}let Fn={width:0,height:0,left:0,top:0};function In(){ln(Fn,!1)}let Ln,Rn,zn,Bn;function Vn(e,t,n,i,a,o,s){nn=!0,an=on=rn._x=rn._y=!1,Pn(e,t,n,i,a,o,s,!0,!1),e!=null&&(_e(t_,d_,Hn,!1),Qn(e_,r,Xt,Zt,B,V,null));let{left:c,top:l,width:u,height:d}=sn;Ln=c,Rn=l,zn=u,Bn=d}function Hn(e,t,n,i,a,o,s){nn=rn._x=rn._y=!1,Pn(e,t,n,i,a,o,s,!1,!0);let{left:c,top:l,width:u,height:d}=sn,f=u>0||d>0,p=Ln!=c||Rn!=l||zn!=u||Bn!=d;if(f&&p&&ln(sn),rn.setScale&&f&&p){let e=c,t=u,n=l,r=d;if(D.ori==1&&(e=l,t=d,n=c,r=u),an&&dn(S,Sn(e,S),Sn(e+t,S)),on)for(let e in b){let t=b[e];e!=S&&t.from==null&&t.min!=dv&&dn(e,Sn(n+r,e),Sn(n,e))}In()}else F.lock&&(F._lock=!F._lock,jn(t,!0,e!=null));e!=null&&(ve(t_,d_),Qn(t_,r,en,tn,B,V,null))}function Un(e,t,n,r,i,a,o){if(F._lock)return;ze(e);let s=nn;if(nn){let e=!0,t=!0,n,r;D.ori==0?(n=an,r=on):(n=on,r=an),n&&r&&(e=en<=10||en>=B-10,t=tn<=10||tn>=V-10),n&&e&&(en=en<Xt?0:B),r&&t&&(tn=tn<Zt?0:V),jn(null,!0,!0),nn=!1}en=-10,tn=-10,re.fill(null),jn(null,!0,!0),s&&(nn=s)}function Wn(e,t,n,i,a,o,s){F._lock||(ze(e),st(),In(),e!=null&&Qn(i_,r,en,tn,B,V,null))}function Y(){y.forEach(Ox),Ne(r.width,r.height,!0)}A_(c_,f_,Y);let Gn={};Gn.mousedown=Vn,Gn.mousemove=J,Gn.mouseup=Hn,Gn.dblclick=Wn,Gn.setSeries=(e,t,n,i)=>{let a=Yn.match[2];n=a(r,t,n),n!=-1&&fn(n,i,!0,!1)},I&&(_e(e_,m,Vn),_e($g,m,J),_e(n_,m,e=>{ze(e),Nn(!1)}),_e(r_,m,Un),_e(i_,m,Wn),fx.add(r),r.syncRect=Nn);let Kn=r.hooks=e.hooks||{};function qn(e,t,n){Lt?Rt.push([e,t,n]):e in Kn&&Kn[e].forEach(e=>{e.call(null,r,t,n)})}(e.plugins||[]).forEach(e=>{for(let t in e.hooks)Kn[t]=(Kn[t]||[]).concat(e.hooks[t])});let Jn=(e,t,n)=>n,Yn=Uv({key:null,setSeries:!1,filters:{pub:bv,sub:bv},scales:[S,v[1]?v[1].scale:null],match:[xv,xv,Jn],values:[null,null]},F.sync);Yn.match.length==2&&Yn.match.push(Jn),F.sync=Yn;let Xn=Yn.key,Zn=Nb(Xn);function Qn(e,t,n,r,i,a,o){Yn.filters.pub(e,t,n,r,i,a,o)&&Zn.pub(e,t,n,r,i,a,o)}Zn.sub(r);function $n(e,t,n,r,i,a,o){Yn.filters.sub(e,t,n,r,i,a,o)&&Gn[e](null,t,n,r,i,a,o)}r.pub=$n;function er(){Zn.unsub(r),fx.delete(r),ge.clear(),j_(c_,f_,Y),l.remove(),L?.remove(),qn(`destroy`)}r.destroy=er;function tr(){qn(`init`,e,t),ot(t||e.data,!1),j[S]?Ut(S,j[S]):st(),je=sn.show&&(sn.width>0||sn.height>0),W=Me=!0,Ne(e.width,e.height)}return v.forEach(Ke),y.forEach(Xe),n?n instanceof HTMLElement?(n.appendChild(l),tr()):n(r,tr):tr(),r}kx.assign=Uv,kx.fmtNum=X_,kx.rangeNum=G_,kx.rangeLog=z_,kx.rangeAsinh=B_,kx.orient=Ib,kx.pxRatio=m_,kx.join=Jv,kx.fmtDate=sy,kx.tzDate=ly,kx.sync=Nb;{kx.addGap=Vb,kx.clipGaps=Bb;let e=kx.paths={points:tx};e.linear=ax,e.stepped=ox,e.bars=cx,e.spline=ux}var Ax=[`--curve1`,`--curve2`,`--curve3`,`--curve4`],jx=[[],[7,4],[2,3],[10,3,2,3]],Mx=e=>e.includes(`, `)?` ${e.slice(e.lastIndexOf(`, `)+2)}`:``,Nx=()=>parseFloat(getComputedStyle(document.documentElement).fontSize)/15;function Px(e){return getComputedStyle(document.documentElement).getPropertyValue(e).trim()}function Fx(e){let t=[...new Set(e.flatMap(e=>e.x))].sort((e,t)=>e-t),n=new Map(t.map((e,t)=>[e,t]));return[t,...e.map(e=>{let r=Array(t.length).fill(void 0);return e.x.forEach((t,i)=>r[n.get(t)]=e.y[i]),r})]}function Ix(e,t){let n=document.createElement(`a`);n.href=URL.createObjectURL(t),n.download=e,n.click(),setTimeout(()=>URL.revokeObjectURL(n.href),1e4)}function Lx(e,t=e.name){let n=Uint8Array.from(atob(e.base64),e=>e.charCodeAt(0));Ix(t,new Blob([n],{type:e.media}))}var Rx=e=>e.toLowerCase().replace(/[^a-z0-9]+/g,`-`).replace(/^-|-$/g,``);function zx(e){let t=V(null),n=V(null),r=ot(``);B(()=>{let r=t.current,i=Nx(),a=()=>({width:Math.max(240,r.clientWidth),height:i*(e.height??260)}),o=()=>{n.current?.destroy(),i=Nx();let t=Px(`--ink`),o=Px(`--rule`),s={stroke:t,grid:{stroke:o,width:1},ticks:{stroke:o,width:1},font:`${13*i}px system-ui, sans-serif`,labelFont:`${13*i}px system-ui, sans-serif`,labelSize:22*i},c=(e,t)=>t.map(e=>e>0&&Math.abs(Math.log10(e)-Math.round(Math.log10(e)))<1e-6?e:null),l={filter:c,grid:{...s.grid,filter:c},ticks:{...s.ticks,filter:c},values:(e,t)=>t.map(e=>e===null?``:String(+e.toPrecision(3)))},u={...a(),legend:{live:!0},cursor:{drag:{x:!0,y:!1},points:{size:7}},scales:{x:{time:!1,distr:e.logX?3:1,...e.xRange?{range:e.xRange}:{}},y:{distr:e.logY?3:1,...e.yRange?{range:e.yRange}:{}}},axes:[{...s,label:e.xName,size:40*i,...e.logX?l:{}},{...s,label:e.yName,size:62*i,...e.logY?l:{values:(e,t)=>t.map(e=>String(+e.toPrecision(6)))}}],series:[{label:e.xName.replace(/, [^,]*$/,``),value:(t,n)=>n==null?`–`:J(n,5)+Mx(e.xName)},...e.curves.map((t,n)=>({label:t.name,stroke:Px(Ax[n%Ax.length]),dash:jx[n%jx.length],width:t.points?0:2,points:{show:!!t.points,size:9,fill:Px(Ax[n%Ax.length])},value:(t,n)=>n==null?`–`:J(n,5)+Mx(e.yName)}))],hooks:{drawAxes:[t=>{for(let n of e.levels??[]){let e=t.valToPos(n.y,`y`,!0);e>=t.bbox.top&&e<=t.bbox.top+t.bbox.height&&(t.ctx.save(),t.ctx.strokeStyle=t.ctx.fillStyle=Px(`--level`),t.ctx.setLineDash([4,4]),t.ctx.lineWidth=1.5*devicePixelRatio,t.ctx.beginPath(),t.ctx.moveTo(t.bbox.left,e),t.ctx.lineTo(t.bbox.left+t.bbox.width,e),t.ctx.stroke(),t.ctx.font=`${12*i*devicePixelRatio}px system-ui, sans-serif`,t.ctx.textAlign=`right`,t.ctx.textBaseline=`alphabetic`,t.ctx.fillText(n.name,t.bbox.left+t.bbox.width-4*devicePixelRatio,e-4*devicePixelRatio),t.ctx.restore())}}]}};n.current=new kx(u,Fx(e.curves),r)};o();let s=new ResizeObserver(()=>Nx()===i?n.current?.setSize(a()):o());s.observe(r);let c=matchMedia(`(prefers-color-scheme: dark)`);return c.addEventListener(`change`,o),()=>{s.disconnect(),c.removeEventListener(`change`,o),n.current?.destroy(),n.current=null}},[JSON.stringify([e.title,e.xName,e.yName,e.logX,e.logY,e.levels,e.xRange,e.yRange,e.curves.map(e=>[e.name,e.points])])]),B(()=>n.current?.setData(Fx(e.curves)),[e.curves]);let i=t=>{let r=n.current,i={ArrowLeft:-1,ArrowRight:1,Home:-1e9,End:1e9}[t.key];if(!r||i===void 0)return;t.preventDefault();let o=r.data[0],s=Math.min(o.length-1,Math.max(0,(r.cursor.idx??(i>0?-1:o.length))+i));r.setCursor({left:r.valToPos(o[s],`x`),top:r.over.clientHeight/2}),a.value=[`${e.xName}: ${J(o[s],5)}`,...e.curves.map((t,n)=>`${t.name}: ${r.data[n+1][s]==null?`–`:J(r.data[n+1][s],5)+Mx(e.yName)}`)].join(`; `)},a=ot(``);return Y(`figure`,{class:`chart ${e.stale?`stale`:``}`,children:[Y(`figcaption`,{children:[Y(`span`,{children:[e.title,e.stale&&Y(`em`,{class:`staleword`,children:` of an earlier design`})]}),Y(`span`,{class:`tools`,children:[Y(`button`,{type:`button`,onClick:async()=>{try{let t=matchMedia(`(prefers-color-scheme: dark)`).matches;Lx(await yt(`POST`,`/api/chart`,{title:e.title,x_name:e.xName,y_name:e.yName,curves:e.curves,levels:e.levels??[],log_x:!!e.logX,log_y:!!e.logY,dark:t}),`${Rx(e.title)}.svg`),r.value=``}catch(e){r.value=St(e)}},"aria-label":`Save "${e.title}" as SVG`,children:`SVG`}),Y(`button`,{type:`button`,onClick:()=>{let t=Fx(e.curves),n=e=>`"${e.replaceAll(`"`,`""`)}"`,r=e.yName.includes(`,`)?e.yName.slice(e.yName.lastIndexOf(`,`)):``,i=[[e.xName,...e.curves.map(e=>e.name+r)].map(n).join(`,`)];t[0].forEach((e,n)=>i.push([e,...t.slice(1).map(e=>e[n]??``)].join(`,`))),Ix(`${Rx(e.title)}.csv`,new Blob([i.join(`
`)+`
`],{type:`text/csv`}))},"aria-label":`Save "${e.title}" as CSV`,children:`CSV`})]})]}),Y(`div`,{ref:t,class:`plot`,tabIndex:0,role:`img`,"aria-label":`${e.title}: ${e.curves.map(e=>e.name).join(`, `)} against ${e.xName}. Left and right arrows read values.`,onKeyDown:i}),Y(`p`,{class:`visually-hidden`,"aria-live":`polite`,children:a.value}),r.value&&Y(`p`,{class:`fault`,role:`alert`,children:r.value})]})}function Bx(e,t){let n=On(),r=()=>{let n=Ht.value,r=t();return n&&r?JSON.stringify([e,q.value,n.accuracy,n.field_only,r]):``};return{...n,follow:kn(n,r,()=>void n.run(e,{...Gt(),accuracy:Ht.peek().accuracy,field_only:Ht.peek().field_only,...t()}))}}var Vx=[`x`,`y`,`z`],Hx=K(0);function Ux(){let e=Et.value,t=Ht.value?.result.gap_at_m;if(!e||!t)return null;if(e.region)return e.region;let n=e.box?.05*Math.min(...[0,1,2].map(t=>e.box.max_m[t]-e.box.min_m[t])):.005;return{shape:`sphere`,center_m:t,size_m:[n,n,n],axis:2}}var Wx=e=>e===1?[0,2]:[(e+1)%3,(e+2)%3],Gx=Bx(`/api/plane`,()=>{let e=Ux();if(!e)return null;let[t,n]=Wx(Hx.value),r=r=>[e.center_m[t]+r*e.size_m[t]/2,e.center_m[n]+r*e.size_m[n]/2];return{plane:{axis:Hx.value,at_m:e.center_m[Hx.value]},window:{min_m:r(-1),max_m:r(1)},cells:48}});function Kx(e){let t=10**Math.floor(Math.log10(e));return t*(e/t>=5?5:e/t>=2?2:1)}var qx=Array.from({length:65},(e,t)=>{let n=t/32-1,r=n<0?4.45:.98,i=.97-.45*Math.abs(n),a=.145*Math.abs(n),o=a*Math.cos(r),s=a*Math.sin(r),[c,l,u]=[i+.3963377774*o+.2158037573*s,i-.1055613458*o-.0638541728*s,i-.0894841775*o-1.291485548*s].map(e=>e**3);return[4.0767416621*c-3.3077115913*l+.2309699292*u,-1.2684380046*c+2.6097574011*l-.3413193965*u,-.0041960863*c-.7034186147*l+1.707614701*u].map(e=>{let t=Math.min(1,Math.max(0,e));return Math.round(255*(t<=.0031308?12.92*t:1.055*t**(1/2.4)-.055))})});function Jx(e,t){let n=Sr(e),[r,i]=[e.across,e.up],a=t=>[e.corner_m[0]+t%e.columns*e.step_m,e.corner_m[1]+Math.floor(t/e.columns)*e.step_m],o=(t.center_m[r]-e.corner_m[0])/e.step_m,s=(t.center_m[i]-e.corner_m[1])/e.step_m,c=Math.min(e.columns-2,Math.floor(o)),l=Math.min(e.rows-2,Math.floor(s)),u=o-c,d=s-l,f=l*e.columns+c,p=(n[f]*(1-u)+n[f+1]*u)*(1-d)+(n[f+e.columns]*(1-u)+n[f+e.columns+1]*u)*d,m=n.map(e=>1e6*(e/p-1)),h=t.shape===`box`||t.shape===`cylinder`&&t.axis!==e.plane.axis,g=n.map((e,n)=>{let o=a(n),s=[2*(o[0]-t.center_m[r])/t.size_m[r],2*(o[1]-t.center_m[i])/t.size_m[i]];return h?Math.abs(s[0])<=1+1e-9&&Math.abs(s[1])<=1+1e-9:Math.hypot(s[0],s[1])<=1+1e-9}),_=m.filter((e,t)=>g[t]),v=Math.min(..._),y=Math.max(..._);return{m:e,r:t,diff:m,inside:g,middle:p,low:v,high:y,step:Kx(Math.max(.001,y-v)/6),top:Math.max(Math.abs(v),Math.abs(y),.001)}}var Yx=420,Xx={left:62,top:14,right:108,bottom:46};function Zx(e,t,n,r){let{m:i,r:a}=e,o=Yx/Math.max(i.columns,i.rows),s=i.columns*o,c=i.rows*o,l=e=>+(Xx.left+(e+.5)*o).toFixed(2),u=e=>+(Xx.top+c-(e+.5)*o).toFixed(2),d=[],f=(e,n,r,i=``)=>d.push(`<text x="${e}" y="${n}" fill="${t}" ${i}>${r}</text>`),p=t=>`#${Cr(qx,.5+t/e.top/2).map(e=>Math.round(e).toString(16).padStart(2,`0`)).join(``)}`;d.push(`<g shape-rendering="crispEdges">`);for(let t=0;t<i.rows;t++)for(let n=0;n<i.columns;n++)d.push(`<rect x="${+(Xx.left+n*o).toFixed(2)}" y="${+(Xx.top+c-(t+1)*o).toFixed(2)}" width="${(o+.3).toFixed(2)}" height="${(o+.3).toFixed(2)}" fill="${p(e.diff[t*i.columns+n])}"/>`);d.push(`</g>`);let m=Math.ceil(e.low/e.step);for(let t=m;t*e.step<=e.high;t++){let n=Tr(e.diff,i.columns,i.rows,t*e.step);n.length&&d.push(`<path d="${n.map(([e,t])=>`M${l(e[0])} ${u(e[1])}L${l(t[0])} ${u(t[1])}`).join(``)}" stroke="#1d2329" stroke-width="${t===0?1.8:.9}" fill="none"/>`)}let[h,g]=[i.across,i.up],_=a.shape===`box`||a.shape===`cylinder`&&a.axis!==i.plane.axis,v=l((a.center_m[h]-i.corner_m[0])/i.step_m),y=u((a.center_m[g]-i.corner_m[1])/i.step_m),b=(a.size_m[h]/2/i.step_m*o).toFixed(2),x=(a.size_m[g]/2/i.step_m*o).toFixed(2);_||d.push(`<ellipse cx="${v}" cy="${y}" rx="${b}" ry="${x}" fill="none" stroke="#1d2329" stroke-width="2" stroke-dasharray="6 4"/>`),d.push(`<rect x="${Xx.left}" y="${Xx.top}" width="${s.toFixed(2)}" height="${c.toFixed(2)}" fill="none" stroke="${t}"/>`);for(let e of[-1,0,1]){let t=a.center_m[h]+e*a.size_m[h]/2,n=a.center_m[g]+e*a.size_m[g]/2,r=e=>Fn(+(e*Nn()).toFixed(6),3);f(l((t-i.corner_m[0])/i.step_m),Xx.top+c+18,r(t),`text-anchor="middle"`),f(Xx.left-6,u((n-i.corner_m[1])/i.step_m)+4,r(n),`text-anchor="end"`)}f(Xx.left+s/2,Xx.top+c+38,`${Vx[h]}, ${Mn()}`,`text-anchor="middle"`),f(16,Xx.top+c/2,`${Vx[g]}, ${Mn()}`,`text-anchor="middle" transform="rotate(-90 16 ${Xx.top+c/2})"`);let S=Xx.left+s+16;for(let e=0;e<65;e++)d.push(`<rect x="${S}" y="${(Xx.top+24+(64-e)*2.4).toFixed(1)}" width="14" height="2.8" fill="#${qx[e].map(e=>e.toString(16).padStart(2,`0`)).join(``)}"/>`);f(S,Xx.top+12,`ppm`);for(let t of[-1,0,1])f(S+20,Xx.top+24+(32-t*32)*2.4+5,t===0?`0`:`${t>0?`+`:`−`}${J(e.top,3)}`);f(S,Xx.top+210,`lines every`,`font-size="12"`),f(S,Xx.top+226,`${J(e.step,1)} ppm`,`font-size="12"`);let C=Math.ceil(Xx.left+s+Xx.right),w=Math.ceil(Xx.top+c+Xx.bottom);return{svg:`<svg xmlns="http://www.w3.org/2000/svg" width="${C}" height="${w}" viewBox="0 0 ${C} ${w}" font-family="sans-serif" font-size="13"><title>${r}</title><rect width="${C}" height="${w}" fill="${n}"/>${d.join(``)}</svg>\n`,px:o,high:c}}function Qx(){B(()=>Gx.follow(),[]);let e=Gx.state.value,t=st(()=>{let e=Gx.state.value.answer,t=Ux();return e&&t&&e.plane.axis===Hx.value?Jx(e,t):null}).value,n=`Difference from the middle, plane across ${Vx[Hx.value]}`,r=e.of!==q.value;return Y(x,{children:[Y(`p`,{class:`row`,children:[Y(`span`,{id:`even-axis`,children:`Over the region, on the plane through its middle across`}),Y(`span`,{role:`group`,"aria-labelledby":`even-axis`,class:`choices`,children:Vx.map((e,t)=>Y(`button`,{type:`button`,"aria-pressed":Hx.value===t,onClick:()=>Hx.value=t,children:e},e))}),e.running&&Y(`small`,{children:[e.running.what,` …`]})]}),e.fault&&Y(`p`,{class:`fault`,role:`alert`,children:e.fault}),t&&Y($x,{p:t,title:n,stale:r})]})}function $x({p:e,title:t,stale:n}){let r=V(null),i=V([Math.floor(e.m.columns/2),Math.floor(e.m.rows/2)]),a=V(null),o=matchMedia(`(prefers-color-scheme: dark)`).matches,s=()=>Zx(e,o?`#e6e9ec`:`#1d2329`,o?`#1b2127`:`#ffffff`,t);B(()=>{let e=s();r.current.innerHTML=e.svg,r.current.querySelector(`svg`).setAttribute(`aria-hidden`,`true`),c()},[e,Mn(),o]);let c=()=>{let[t,n]=i.current,r=n*e.m.columns+t,o=e.diff[r];a.current.textContent=`${Vx[e.m.across]} ${Pn(e.m.corner_m[0]+t*e.m.step_m,3)}, ${Vx[e.m.up]} ${Pn(e.m.corner_m[1]+n*e.m.step_m,3)}: ${o<0?`−`:`+`}${Ln(Math.abs(o))}${e.inside[r]?``:`, outside the region`}`},l=(t,n)=>{i.current=[Math.min(e.m.columns-1,Math.max(0,t)),Math.min(e.m.rows-1,Math.max(0,n))],c()};return Y(`figure`,{class:`chart ${n?`stale`:``}`,children:[Y(`figcaption`,{children:[Y(`span`,{children:[t,n&&Y(`em`,{class:`staleword`,children:` of an earlier design`})]}),Y(`span`,{class:`tools`,children:[Y(`button`,{type:`button`,onClick:()=>Ix(`${Rx(t)}.svg`,new Blob([s().svg],{type:`image/svg+xml`})),"aria-label":`Save "${t}" as SVG`,children:`SVG`}),Y(`button`,{type:`button`,onClick:()=>{let n=[`"${Vx[e.m.across]}, mm","${Vx[e.m.up]}, mm","B, T","difference from the middle, ppm","in the region"`],r=Sr(e.m);e.diff.forEach((t,i)=>n.push([1e3*(e.m.corner_m[0]+i%e.m.columns*e.m.step_m),1e3*(e.m.corner_m[1]+Math.floor(i/e.m.columns)*e.m.step_m),r[i],t].map(e=>+e.toPrecision(8)).join(`,`)+(e.inside[i]?`,yes`:`,no`))),Ix(`${Rx(t)}.csv`,new Blob([n.join(`
`)+`
`],{type:`text/csv`}))},"aria-label":`Save "${t}" as CSV`,children:`CSV`})]})]}),Y(`div`,{ref:r,class:`plot evenness`,tabIndex:0,role:`img`,"aria-label":`${t}: from ${Ln(e.low)} to ${Ln(e.high)} in the region. Arrow keys read values.`,onPointerMove:t=>{let n=r.current.querySelector(`svg`),i=n.getBoundingClientRect(),a=n.viewBox.baseVal.width/i.width,o=Yx/Math.max(e.m.columns,e.m.rows);l(Math.floor(((t.clientX-i.left)*a-Xx.left)/o),Math.floor((Xx.top+e.m.rows*o-(t.clientY-i.top)*a)/o))},onKeyDown:e=>{let t={ArrowLeft:[-1,0],ArrowRight:[1,0],ArrowUp:[0,1],ArrowDown:[0,-1]}[e.key];t&&(e.preventDefault(),l(i.current[0]+t[0],i.current[1]+t[1]))}}),Y(`p`,{children:Y(`output`,{ref:a,"aria-live":`polite`})}),Y(`p`,{children:[`In this plane of the region `,Ln(e.high-e.low),` from the lowest to the highest; `,In(e.middle,6),` in the middle. The dashed line bounds the region.`]})]})}var eS=[`x`,`y`,`z`],tS=e=>e?Pn(e,3):`not outside the parts`;function nS(e){let t=t=>/^[A-Z]{3}$/.test(e.unit)?`${t.toFixed(2)} ${e.unit}`:e.unit===`T`?In(t):e.unit===`m`?Pn(t):e.unit===`ppm`?Ln(t):e.unit===`kg`?Rn(t):`${J(t,4)} ${e.unit}`;return`${t(e.got)}, wanted ${t(e.wanted)}`}var rS=We(()=>Et.value?.cost_limit??``),iS=e=>rS.value!==``&&e!==null&&!e.target?.some(e=>e.what===`cost`);function aS(){let e=Ut.value;if(!e)return Y(x,{children:[Y(`h2`,{children:`The answer`}),Y(`p`,{children:`There is no answer yet.`})]});let t=Bt.value.result&&Bt.value.of===q.value?Bt.value.result:null,n=!Wt.value;return Y(x,{children:[Y(`h2`,{children:`The answer`}),Y(`div`,{class:n?`stale`:``,children:[n&&Y(`p`,{class:`staleword`,children:`These numbers belong to an earlier design.`}),!t&&!n&&Y(`p`,{children:Y(`small`,{children:`A draft; forces, stray field and losses come with the whole answer.`})}),t&&((t.target??[]).length>0||iS(t))&&Y(`table`,{class:`list`,children:[Y(`caption`,{children:`What you need`}),Y(`tbody`,{children:[(t.target??[]).map(e=>Y(er,{what:e.what,value:e.met?`met`:`NOT met`,note:nS(e),mark:e.met?`good`:`bad`},e.what)),iS(t)&&Y(er,{what:`cost`,value:`not known`,note:`at most ${rS.value} wanted; not all prices are known: they come from the list of stock (Build)`,mark:`bad`})]})]}),Y(`table`,{class:`list`,children:[Y(`caption`,{children:`In the gap`}),Y(`tbody`,{children:[Y(er,{what:`Field`,value:In(Math.hypot(...e.gap_b_T),5),note:`± ${J(e.solver.estimated_error_percent,2)} % by the solver's own estimate`}),e.region&&Y(er,{what:`Mean over the region`,value:In(e.region.mean_b_T,5)}),e.region&&Y(er,{what:`Spread over the region`,value:Ln(e.region.peak_to_peak_ppm),note:`rms ${Ln(e.region.rms_ppm)}`}),e.probes.map(e=>Y(er,{what:e.name,value:In(Math.hypot(...e.b_T),5),note:`at ${e.at_m.map(e=>Pn(e)).join(`, `)}`},e.name)),e.sections.map(e=>Y(er,{what:`Section ${e.name}`,value:In(e.mean_b_T,4)},e.name))]})]}),t&&Y(x,{children:[Y(`table`,{class:`list`,children:[Y(`caption`,{children:`Outside`}),Y(`tbody`,{children:[t.stray.map(e=>Y(er,{what:`${In(e.limit_T,2)} reaches`,value:e.largest_m?Pn(e.largest_m):`nowhere outside`,note:e.largest_m>0&&`along ${eS.map((t,n)=>`${t} ${tS([e.reach_m.x,e.reach_m.y,e.reach_m.z][n])}`).join(`, `)}`},e.limit_T)),Y(er,{what:`Mass`,value:Rn(t.mass_kg)})]})]}),Y(`table`,{class:`list`,children:[Y(`caption`,{children:`Magnets and their pull`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Part`}),Y(`th`,{scope:`col`,children:`Force`}),Y(`th`,{scope:`col`,children:`Permeance`}),Y(`th`,{scope:`col`,children:`Margin to the knee`})]})}),Y(`tbody`,{children:t.parts.filter(e=>e.kind!==`spacer`).map(e=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:e.name}),Y(`td`,{class:`number`,children:zn(Math.hypot(...e.force_N))}),Y(`td`,{class:`number`,children:e.working_point?J(e.working_point.permeance,3):``}),Y(`td`,{class:`number`,children:e.working_point?.knee_margin?`${J(100*e.working_point.knee_margin,2)} %`:``})]},e.name))})]}),t.ledger&&Y(`details`,{children:[Y(`summary`,{children:`Where the field goes: from the remanence to the gap`}),Y(`table`,{class:`list`,children:Y(`tbody`,{children:t.ledger.rows.map((e,t)=>Y(er,{what:e.what,value:`${e.delta_T>=0?`+`:`−`}${J(Math.abs(e.delta_T),3)} T`,note:`leaves ${In(e.after_T)}`},t))})})]}),t.warnings.map(e=>Y(`p`,{class:`warning`,children:e},e)),t.cautions.length>0&&Y(`section`,{class:`caution`,"aria-label":`Cautions`,children:[Y(`h3`,{children:`Mind your hands`}),Y(`ul`,{children:t.cautions.map(e=>Y(`li`,{children:e},e))})]})]})]})]})}var oS=K(`line`);function sS(){let e=(Et.value?.wounds.length??0)>0;return Y(`section`,{class:`charts`,"aria-label":`Charts`,children:[Y(`div`,{class:`choices`,role:`group`,"aria-label":`Which chart`,children:[[`line`,`Along a line`],[`even`,`Over the region`],[`harmonics`,`Harmonics`],[`magnet`,`Magnets when warm`],...e?[[`turns`,`Turns`]]:[],[`force`,`Coming together`],[`reach`,`Reach`]].map(([e,t])=>Y(`button`,{type:`button`,"aria-pressed":oS.value===e,onClick:()=>oS.value=e,children:t},e))}),oS.value===`line`&&Y(fS,{}),oS.value===`even`&&Y(Qx,{}),oS.value===`harmonics`&&Y(mS,{}),oS.value===`magnet`&&Y(_S,{}),oS.value===`turns`&&e&&Y(yS,{}),oS.value===`force`&&Y(SS,{}),oS.value===`reach`&&Y(TS,{})]})}var cS=K(2),lS=K(null),uS=We(()=>{let e=Et.value?.box,t=Ht.value?.result.gap_at_m;if(!e||!t)return null;let n=cS.value;if(n===3&&lS.value)return lS.value;let r=[...t],i=[...r],a=n===3?2:n,o=.25*(e.max_m[a]-e.min_m[a]);return r[a]=e.min_m[a]-o,i[a]=e.max_m[a]+o,[r,i]}),dS=Bx(`/api/line`,()=>{let e=uS.value;return e&&Math.hypot(...e[0].map((t,n)=>t-e[1][n]))>0?{from_m:e[0],to_m:e[1],points:161}:null});function fS(){B(()=>dS.follow(),[]);let e=dS.state.value,t=cS.value,n=t===3,r=st(()=>{let e=dS.state.value.answer,t=uS.value;if(!e||!t)return[];let n=cS.value,r=n===3?0:t[0][n],i=e.s_m.map(e=>+((e+r)*Nn()).toPrecision(7)),a=[`Bx`,`By`,`Bz`].map((t,n)=>({name:t,x:i,y:e.b_T.map(e=>e[n])})),o=Math.max(...a.flatMap(e=>e.y.map(Math.abs)));return[{name:`|B|`,x:i,y:e.b_T.map(e=>Math.hypot(e[0],e[1],e[2]))},...a.filter(e=>Math.max(...e.y.map(Math.abs))>.001*o)]}),i=e=>e.map(e=>Fn(e*Nn(),4)).join(`, `),a=(e,t,n)=>{let r=parseFloat(n.replace(`,`,`.`).replace(`−`,`-`)),i=uS.value.map(e=>[...e]);Number.isFinite(r)&&(i[e][t]=r/Nn()),lS.value=i};return Y(x,{children:[Y(`p`,{class:`row`,children:[Y(`span`,{id:`line-axis`,children:`Through the middle of the gap, along`}),Y(`span`,{role:`group`,"aria-labelledby":`line-axis`,class:`choices`,children:[eS.map((e,n)=>Y(`button`,{type:`button`,"aria-pressed":t===n,onClick:()=>cS.value=n,children:e},e)),Y(`button`,{type:`button`,"aria-pressed":n,onClick:()=>ke(()=>(lS.value??=uS.value,cS.value=3)),children:`or between two points`})]}),e.running&&Y(`small`,{children:[e.running.what,` …`]})]}),n&&uS.value&&[`From`,`to`].map((e,t)=>Y(`p`,{class:`row ends`,children:[Y(`span`,{children:e}),eS.map((e,n)=>Y(`label`,{children:[e,` `,Y(`input`,{type:`text`,inputMode:`decimal`,"aria-label":`${t?`End`:`Begin`} ${e}, ${Mn()}`,value:Fn(uS.value[t][n]*Nn(),6),onChange:e=>a(t,n,e.currentTarget.value)})]},e)),Y(`span`,{children:Mn()})]},e)),e.fault&&Y(`p`,{class:`fault`,role:`alert`,children:e.fault}),r.value.length>0&&(n?Y(zx,{title:`Field from ${i(uS.value[0])} to ${i(uS.value[1])} ${Mn()}`,xName:`distance from the first point, ${Mn()}`,yName:`B, T`,curves:r.value,stale:e.of!==q.value}):Y(zx,{title:`Field along ${eS[t]}`,xName:`${eS[t]}, ${Mn()}`,yName:`B, T`,curves:r.value,stale:e.of!==q.value}))]})}var pS=Bx(`/api/gap`,()=>({energy_eV:1e4,probe_m:.001}));function mS(){B(()=>pS.follow(),[]);let e=pS.state.value,t=e.answer,n=st(()=>(pS.state.value.answer?.harmonics?.terms??[]).filter(e=>e.n>0).sort((e,t)=>e.n-t.n||e.m-t.m)),r=st(()=>[{name:`size of the term`,x:n.value.map((e,t)=>t+1),y:n.value.map(e=>Math.max(.001,Math.abs(e.ppm))),points:!0}]);if(e.fault)return Y(`p`,{class:`fault`,role:`alert`,children:e.fault});if(!t)return Y(`p`,{children:e.running?`${e.running.what} …`:`Waiting for the field.`});let i=Math.max(1e-9,...n.value.map(e=>Math.abs(e.ppm)));return Y(`div`,{class:e.of===q.value?``:`stale`,children:[Y(`p`,{children:[`Over the `,t.volume,`: mean `,In(t.region.mean_b_T,6),`, spread `,Ln(t.region.peak_to_peak_ppm),`, the shape uncertain by about `,Ln(t.region.noise_ppm),`.`,` `,`Resonance of the `,t.resonances.map(e=>`${e.of} ${J(e.frequency_Hz/1e6,6)} MHz, line ${J(e.full_width_Hz/1e3,3)} kHz wide`).slice(0,1).join(`; `),`. A Hall probe of 1 mm reads `,J(Math.abs(t.hall_probe.error_T)*1e6,2),` µT wrong.`]}),t.harmonics&&Y(x,{children:[Y(zx,{title:`Harmonics of the gap field`,xName:`term, in the order of the table`,yName:`size, ppm`,curves:r.value,logY:!0,height:200,stale:e.of!==q.value,xRange:[0,n.value.length+1]}),Y(`table`,{class:`list`,children:[Y(`caption`,{children:[`Terms at a radius of `,Pn(t.harmonics.radius_m),`, ppm of the field in the middle; those that symmetry forbids are left out`]}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Term`}),Y(`th`,{scope:`col`,children:`n, m`}),Y(`th`,{scope:`col`,children:`ppm`}),Y(`th`,{scope:`col`,children:Y(`span`,{class:`visually-hidden`,children:`Size`})})]})}),Y(`tbody`,{children:n.value.map((e,t)=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:t+1}),Y(`td`,{children:[e.n,`, `,e.m,` `,e.m>0?e.kind:``]}),Y(`td`,{class:`number`,children:J(e.ppm,3)}),Y(`td`,{children:Y(`svg`,{class:`stroke`,viewBox:`0 0 100 10`,preserveAspectRatio:`none`,"aria-hidden":`true`,children:Y(`rect`,{width:100*Math.abs(e.ppm)/i,height:`10`})})})]},t))})]})]})]})}var hS=K(``),gS=K(20);function _S(){let e=ot(null),t=ot(``),n=(Bt.value.result??Ut.value)?.parts?.filter(e=>e.working_point)??[],r=Et.value?.parts.filter(e=>e.kind===`magnet`)??[],i=r.some(e=>e.name===hS.value)?hS.value:r[0]?.name??``,a=n.find(e=>e.name===i)?.working_point,o=a?.permeance??Et.value?.circuit?.permeance??0;B(()=>{i&&yt(`POST`,`/api/magnet`,{...Gt(),part:i,permeance:o}).then(n=>(e.value=n,t.value=``),e=>t.value=St(e))},[i,o,q.value]);let s=e.value,c=s?.curves.reduce((e,t)=>Math.abs(t.degC-gS.value)<Math.abs(e.degC-gS.value)?t:e),l=[];if(s&&c){let e=e=>+(e/1e3).toPrecision(6),t=Math.min(...c.h_A_per_m);l.push({name:`B at ${c.degC} °C`,x:c.h_A_per_m.map(e),y:c.b_T});let n=Math.max(t,-1.6/(4e-7*Math.PI*Math.max(o,1e-6)));if(l.push({name:`load line`,x:[e(n),0],y:[-o*4e-7*Math.PI*n,0]}),l.push({name:`working point`,x:[e(c.working_h_A_per_m)],y:[c.working_b_T],points:!0}),c.knee_h_A_per_m<0){let t=c.h_A_per_m.reduce((e,t,n)=>Math.abs(t-c.knee_h_A_per_m)<Math.abs(c.h_A_per_m[e]-c.knee_h_A_per_m)?n:e,0);l.push({name:`knee`,x:[e(c.h_A_per_m[t])],y:[c.b_T[t]],points:!0})}}let u=s?Math.min(...s.curves.flatMap(e=>e.h_A_per_m))/1e3:0,d=c&&c.knee_h_A_per_m<0&&c.working_h_A_per_m<c.knee_h_A_per_m;return Y(x,{children:[Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Magnet `,Y(`select`,{value:i,onChange:e=>hS.value=e.currentTarget.value,children:r.map(e=>Y(`option`,{children:e.name},e.name))})]}),Y(`label`,{class:`slide`,children:[`Temperature `,Y(`input`,{type:`range`,min:-40,max:s?s.curves.at(-1).degC:200,step:5,value:gS.value,onInput:e=>gS.value=+e.currentTarget.value,"aria-valuetext":`${gS.value} degrees Celsius`}),` `,Y(`output`,{children:[gS.value,` °C`]})]})]}),t.value&&Y(`p`,{class:`fault`,role:`alert`,children:t.value}),c&&Y(zx,{title:`Working point of ${i} (${s.grade})`,xName:`H, kA/m`,yName:`B, T`,curves:l,yRange:[-.4,1.6],xRange:[Math.max(u,-1400),0]}),c&&Y(`p`,{role:`status`,children:[`On the mean load line, permeance coefficient `,J(o,3),a?``:` by the circuit`,`: B `,In(c.working_b_T,3),`, H `,J(c.working_h_A_per_m/1e3,3),` kA/m;`,` `,c.knee_h_A_per_m<0?Y(x,{children:[`the knee is at `,J(c.knee_h_A_per_m/1e3,3),` kA/m. `,d?Y(`strong`,{class:`fault`,children:[`Past the knee: the magnet loses for good and keeps about `,J(100*c.remanence_kept,3),` %.`]}):`This side of the knee.`]}):`its knee is not known.`,` `,`Corners fare worse than the mean: the whole answer looks there. `,Y(`small`,{children:s.knee_rule})]})]})}var vS=On();function yS(){let e=vS.state.value,t=e.answer?.outlook,n=st(()=>{let e=vS.state.value.answer?.outlook?.points??[];return[{name:`as planned`,x:e.map(e=>e.turns),y:e.map(e=>e.gap_T)},{name:`packed looser`,x:e.map(e=>e.turns),y:e.map(e=>e.looser_gap_T||null)},...vS.state.value.answer?.outlook?[{name:`planned`,x:[vS.state.value.answer.outlook.planned_turns],y:[vS.state.value.answer.outlook.planned_gap_T],points:!0}]:[]]});return Y(x,{children:[Y($n,{work:vS,onStart:()=>void vS.run(`/api/wind`,{...Gt(),yoke:Et.value.wounds[0],solve:!0}),children:`Solve the field against turns (some twenty drafts)`}),t&&Y(x,{children:[Y(zx,{title:`Field against turns`,xName:`turns`,yName:`B in the gap, T`,curves:n.value,levels:t.target_T?[{name:`wanted`,y:t.target_T}]:[],stale:e.of!==q.value}),Y(`p`,{children:[t.knee_turns?`From about ${Math.round(t.knee_turns)} turns on the steel no longer limits. `:``,t.enough_turns?`From ${Math.round(t.enough_turns)} turns on, a further hundred bring less than ${J(100*t.least_gain,2)} %. `:``,t.target_turns?`The target is reached at ${Math.round(t.target_turns)} turns.`:``]})]})]})}var bS=On(),xS=K(0);function SS(){let e=Et.value?.partings??[],t=bS.state.value,n=t.answer,r=n?`xyz`.indexOf(n.plane[0]):2,i=st(()=>{let e=bS.state.value.answer;if(!e)return[];let t=`xyz`.indexOf(e.plane[0]),n=[...e.steps].reverse();return[{name:`pull`,x:n.map(e=>+(e.distance_m*Nn()).toPrecision(6)),y:n.map(e=>-e.force_N[t])}]});if(!e.length)return Y(`p`,{children:`No plane parts this design without cutting a part: write the halves as parts that touch.`});let a=e[Math.min(xS.value,e.length-1)];return Y(x,{children:[Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Parted at `,Y(`select`,{value:String(e.indexOf(a)),onChange:e=>xS.value=+e.currentTarget.value,children:e.map((e,t)=>Y(`option`,{value:String(t),children:[eS[e.axis],` = `,Pn(e.at_m)]},t))})]}),Y($n,{work:bS,onStart:()=>void bS.run(`/api/approach`,{...Gt(),plane:a,from_m:.1,steps:10}),children:`Solve the way together`})]}),n&&Y(x,{children:[Y(zx,{title:`Pull between the halves`,xName:`distance from the closed place, ${Mn()}`,yName:`pull, N`,curves:i.value,stale:t.of!==q.value}),Y(`p`,{children:[n.moved.join(`, `),` pulled with `,zn(Math.abs(n.steps.at(-1).force_N[r])),` in the closed place; `,J(n.energy_J,3),` J are set free on the way.`]}),n.cautions.map(e=>Y(`p`,{class:`warning`,children:e},e))]})]})}var CS=K(2),wS=Bx(`/api/line`,()=>{let e=Et.value?.box;if(!e)return null;let t=CS.value,n=[0,1,2].map(t=>(e.min_m[t]+e.max_m[t])/2),r=[...n];return n[t]=e.max_m[t]+.001,r[t]=Math.max(1,6*(e.max_m[t]-e.min_m[t])),{from_m:n,to_m:r,points:200}});function TS(){B(()=>wS.follow(),[]);let e=wS.state.value,t=st(()=>{let e=wS.state.value.answer,t=Et.value?.box;if(!e||!t)return[];let n=CS.value,r=t.max_m[n]+.001-(t.min_m[n]+t.max_m[n])/2;return[{name:`|B|`,x:e.s_m.map(e=>+((e+r)*Nn()).toPrecision(6)),y:e.b_T.map(e=>Math.max(1e-9,1e3*Math.hypot(e[0],e[1],e[2])))}]});return Y(x,{children:[Y(`p`,{class:`row`,children:[Y(`span`,{id:`reach-axis`,children:`Outward from the middle, along`}),Y(`span`,{role:`group`,"aria-labelledby":`reach-axis`,class:`choices`,children:eS.map((e,t)=>Y(`button`,{type:`button`,"aria-pressed":CS.value===t,onClick:()=>CS.value=t,children:[`+`,e]},e))}),e.running&&Y(`small`,{children:[e.running.what,` …`]})]}),e.fault&&Y(`p`,{class:`fault`,role:`alert`,children:e.fault}),t.value.length>0&&Y(zx,{title:`Stray field along +${eS[CS.value]}`,xName:`distance from the middle, ${Mn()}`,yName:`B, mT`,curves:t.value,logX:!0,logY:!0,levels:[{name:`0.5 mT: implants`,y:.5},{name:`3 mT: loose steel`,y:3}],stale:e.of!==q.value})]})}var ES=On();function DS(){let e=ES.state.value,t=e.answer?[...e.answer.sizing.candidates,...e.answer.sizing.others.slice(0,8)]:[];return Y(x,{children:[Y(`h2`,{children:`What do you need?`}),Y(Zn,{test:e=>e.startsWith(`target.`)&&!e.startsWith(`target.region.center`)}),Y(`h3`,{children:`Find designs`}),Y(`p`,{children:`Layouts, grades and sizes for this target: by the magnetic circuit within a second, the lightest solved in full if you like.`}),rS.value&&Y(`p`,{children:Y(`small`,{children:`The cost is judged by the prices of your list of stock in the folder; give it under Build.`})}),Y($n,{work:ES,onStart:()=>void ES.run(`/api/size`,{...Gt(),solve:0}),children:`Find designs at once`}),e.answer&&!e.running&&Y(`button`,{type:`button`,onClick:()=>void ES.run(`/api/size`,{...Gt(),solve:2}),children:`Solve the best two and correct them`}),e.answer&&Y(`div`,{class:e.of===q.value?``:`stale`,children:[Y(`table`,{class:`list`,children:[Y(`caption`,{children:[`Designs for the target, the lightest first`,e.of===q.value?``:` (for an earlier target)`]}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Layout`}),Y(`th`,{scope:`col`,children:`Grade`}),Y(`th`,{scope:`col`,children:`Mass`}),Y(`th`,{scope:`col`,children:`Field`}),Y(`th`,{scope:`col`,children:Y(`span`,{class:`visually-hidden`,children:`Take`})})]})}),Y(`tbody`,{children:t.map((t,n)=>Y(`tr`,{children:[Y(`td`,{children:[t.layout,t.solved&&t.solved.missed.length>0&&Y(`small`,{class:`fault`,children:t.solved.missed.join(`; `)})]}),Y(`td`,{children:t.grade}),Y(`td`,{class:`number`,children:[Rn(t.mass_kg),t.cost&&Y(`small`,{children:[` `,t.cost.amount.toFixed(2),` `,t.cost.currency,t.not_in_stock?.length?` and what is not in stock`:``]})]}),Y(`td`,{class:`number`,children:t.solved?In(t.solved.gap_b_T):Y(x,{children:[In(t.circuit_gap_b_T,3),` `,Y(`small`,{children:`circuit`})]})}),Y(`td`,{children:Y(`button`,{type:`button`,onClick:()=>void sn(e.answer.files[n]).then(()=>Dt.value=`magnet`),"aria-label":`Take ${t.layout} of ${t.grade}`,children:`Take`})})]},n))})]}),e.answer.sizing.out_of_reach.length>0&&Y(`details`,{children:[Y(`summary`,{children:[e.answer.sizing.out_of_reach.length,` layouts do not reach it`]}),Y(`ul`,{children:e.answer.sizing.out_of_reach.map(e=>Y(`li`,{children:[Y(`strong`,{children:e.layout}),e.most_b_T?`, at most ${In(e.most_b_T,3)}`:``,`: `,e.why]},e.layout))})]}),e.answer.sizing.notes.map(e=>Y(`p`,{children:Y(`small`,{children:[`Note: `,e,`.`]})},e))]})]})}var OS=[`layout.magnet_`,`layout.grade`,`layout.gap`,`layout.outer_diameter`,`layout.bore`,`layout.kind`,`layout.segments`,`layout.blocks`,`layout.length`,`magnet.`],kS=e=>OS.some(t=>e.startsWith(t)),AS=e=>!kS(e)&&!e.startsWith(`target.`);function jS({kinds:e}){let t=(Et.value?.parts??[]).filter(t=>e.includes(t.kind)),n=e=>{let t=new Set(kt.value);t.delete(e)||t.add(e),kt.value=t};return t.length?Y(`ul`,{class:`parts`,children:t.map(e=>Y(`li`,{class:Ot.value===e.name?`picked`:``,children:[Y(`button`,{type:`button`,"aria-pressed":Ot.value===e.name,onClick:()=>Ot.value=Ot.value===e.name?null:e.name,children:[Y(`b`,{class:`kind ${e.kind}`,"aria-hidden":`true`,children:e.letter}),` `,e.name,` `,Y(`small`,{children:[e.shape,` `,e.size_mm,` mm, `,e.material]})]}),Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:!kt.value.has(e.name),onChange:()=>n(e.name),"aria-label":`Show ${e.name} in the view`}),` show`]})]},e.name))}):Y(`p`,{children:`There are none.`})}function MS({kinds:e}){let t=Et.value?.parts.find(t=>t.name===Ot.value&&e.includes(t.kind));if(!t)return null;let n=Xn(e=>e.startsWith(`${t.kind}.${t.name}.`));return Y(`section`,{class:`inset`,"aria-label":`Part ${t.name}`,children:[Y(`h3`,{children:t.name}),Y(`p`,{children:Y(`small`,{children:[t.shape,`, `,t.size_mm,` mm, `,t.material,t.mass_kg?`, ${Rn(t.mass_kg)}`:``,`, middle at `,t.center_m.map(e=>Pn(e)).join(`, `)]})}),n.length?Y(x,{children:[Y(`div`,{class:`fields`,children:n.filter(e=>e.given).map(e=>Y(Kn,{p:e,label:Yn(e.path)},e.path))}),Y(NS,{part:t})]}):Y(`p`,{children:`It follows from the lengths of the layout.`})]})}function NS({part:e}){let t=q.value.split(`
`);return e.line>0?Y(`button`,{type:`button`,onClick:()=>{let n=e.line;for(;n<t.length&&!/^\s*\[/.test(t[n]);)n++;for(;n>e.line&&/^\s*(#.*)?$/.test(t[n-1])&&n<t.length;)n--;sn([...t.slice(0,e.line-1),...t.slice(n)].join(`
`))},children:[`Take `,e.name,` away`]}):null}var PS={magnet:`
[[magnet]]
name       = "NAME"
shape      = "block"
size       = ["20 mm", "20 mm", "10 mm"]
center     = ["AT mm", "0 mm", "0 mm"]
magnetized = [0, 0, 1]
grade      = "N42"
`,steel:`
[[steel]]
name     = "NAME"
shape    = "block"
size     = ["20 mm", "20 mm", "10 mm"]
center   = ["AT mm", "0 mm", "0 mm"]
material = "steel-1018"
`,spacer:`
[[spacer]]
name     = "NAME"
shape    = "block"
size     = ["20 mm", "20 mm", "10 mm"]
center   = ["AT mm", "0 mm", "0 mm"]
material = "aluminium"
`,probe:`
[[probe]]
name = "NAME"
at   = ["0 mm", "0 mm", "0 mm"]
`};function FS({kinds:e}){let t=ot(``),n=async e=>{let n=q.value,r=1;for(;n.includes(`"${e} ${r}"`);)r++;let i=Math.ceil(((Et.value?.box?.max_m[0]??0)*1e3+15)/5)*5;try{await sn(`${n.trimEnd()}\n${PS[e].replace(`NAME`,`${e} ${r}`).replace(`AT`,String(i))}`),Ot.value=`${e} ${r}`,t.value=``}catch(e){t.value=St(e)}};return Y(`p`,{class:`row`,children:[e.map(e=>Y(`button`,{type:`button`,onClick:()=>void n(e),children:[`Add a `,e]},e)),t.value&&Y(`span`,{class:`fault`,role:`alert`,children:t.value})]})}function IS(){return Y(x,{children:[Y(`h2`,{children:`Magnets and gap`}),Y(Zn,{test:e=>kS(e)&&e.startsWith(`layout.`),rest:!1}),Y(`h3`,{children:`Magnets`}),Y(jS,{kinds:[`magnet`]}),Y(MS,{kinds:[`magnet`]}),Y(FS,{kinds:[`magnet`]})]})}function LS(){let e=st(()=>Ht.value?.result.parts.filter(e=>e.kind===`steel`||e.kind===`wound`)??[]),t=Et.value?.circuit;return Y(x,{children:[Y(`h2`,{children:`Yoke, spacers and joints`}),Y(Zn,{test:e=>AS(e)&&e.startsWith(`layout.`),rest:!1}),t&&t.leg_b_T>0&&Y(`p`,{children:[`By the circuit the legs carry `,Y(`b`,{children:In(t.leg_b_T,3)}),t.back_b_T?Y(x,{children:[`, the backs `,Y(`b`,{children:In(t.back_b_T,3)})]}):null,`. Common steel is good up to about 1.5 T (common practice, no source).`]}),e.value.some(e=>e.saturation)&&Y(`table`,{class:`list`,children:[Y(`caption`,{children:`How full the steel is, solved`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Part`}),Y(`th`,{scope:`col`,children:`Mean`}),Y(`th`,{scope:`col`,children:`Most`}),Y(`th`,{scope:`col`,children:`of saturation`})]})}),Y(`tbody`,{children:e.value.map(e=>Y(`tr`,{children:[Y(`td`,{children:e.name}),Y(`td`,{class:`number`,children:In(e.mean_b_T,3)}),Y(`td`,{class:`number`,children:In(e.max_b_T,3)}),Y(`td`,{class:`number`,children:[J((e.saturation??0)*100,3),` %`]})]},e.name))})]}),Y(`h3`,{children:`Parts`}),Y(jS,{kinds:[`steel`,`wound`,`spacer`,`coil`]}),Y(MS,{kinds:[`steel`,`wound`,`spacer`,`coil`]}),Y(FS,{kinds:[`steel`,`spacer`]}),Y(`details`,{children:[Y(`summary`,{children:`Joints, probes and sections`}),Y(Zn,{test:e=>/^(joint|probe|section)\./.test(e),rest:!1}),Y(FS,{kinds:[`probe`]})]})]})}function RS(){let e=ot(``),t=ot(null),n=async n=>{try{await sn(n),t.value=null,e.value=``}catch(t){e.value=St(t)}};return Y(x,{children:[Y(`label`,{for:`file-text`,class:`visually-hidden`,children:`The design file`}),Y(`textarea`,{id:`file-text`,spellcheck:!1,value:t.value??q.value,onInput:e=>t.value=e.currentTarget.value}),Y(`p`,{class:`row`,children:[Y(`button`,{type:`button`,class:`main`,disabled:t.value===null||t.value===q.value,onClick:()=>void n(t.value),children:`Take this text`}),Y(`button`,{type:`button`,disabled:t.value===null,onClick:()=>t.value=null,children:`Drop my changes`})]}),e.value&&Y(`p`,{class:`fault`,role:`alert`,children:e.value})]})}function zS(){return Vt.value||!Et.value?null:Et.value.no_parts?Dt.value===`need`?null:Y(`p`,{class:`warning`,children:`There are no parts yet: find designs for what you need, or add parts.`}):Y(`section`,{class:`problems`,role:`alert`,"aria-label":`Mistakes in the design`,children:[Y(`h3`,{children:[Dn.value.length===1?`A mistake`:`${Dn.value.length} mistakes`,` in the design`]}),Y(`ul`,{children:Dn.value.map((e,t)=>Y(`li`,{children:[e.line?Y(`b`,{children:[`line `,e.line,`: `]}):null,e.key?Y(`code`,{children:e.key}):null,` `,e.what,e.hint?Y(`small`,{children:e.hint}):null]},t))}),Y(`p`,{children:Y(`small`,{children:`Numbers below belong to the last design without a mistake.`})})]})}var BS=K(null),VS=K(``),HS=K(``),US=K(``),WS=K(``),GS=K(``),KS=K(`95`),qS=On(),JS=K(``),YS=On(),XS=On(),ZS=e=>e.trim()===``?0:Number(e.replace(`,`,`.`))/100,QS=()=>({...Gt(),log:BS.value.text,log_name:BS.value.name,accuracy:`standard`,probe:US.value.trim(),noise:ZS(WS.value),place_m:GS.value.trim()===``?0:Number(GS.value.replace(`,`,`.`))/Nn(),confidence:ZS(KS.value)}),$S=K(``),eC=K(!1),tC=e=>[...new Set(e.readings.map(e=>e.component))],nC=e=>tC(e).includes($S.value)?$S.value:tC(e)[0],rC=()=>JSON.stringify([q.value,BS.value?.version,US.value,WS.value,GS.value,KS.value]);Ye(()=>{let e=qS.state.value.answer;Er.value=!e?.readings.length||VS.value!==Tt.value?.name?null:{list:e.readings.filter(t=>t.component===nC(e)).map(e=>{let t=eC.value?e.fitted_T:e.predicted_T;return{line:e.line,at:e.at_m,component:e.component,read:e.corrected_T,predicted:t,t:e.corrected_T-t,sigma:e.standard_uncertainty_T,wrong:!!e.wrong}}),component:nC(e),than:eC.value?`with what is off`:`of the design`,stale:JS.value!==rC()}});async function iC(e){try{let t=await yt(`GET`,`/api/readings/${encodeURIComponent(e)}`);if(Tt.value?.name!==e)return;BS.value=t,HS.value=``}catch(e){HS.value=St(e)}}async function aC(e){let t=Tt.value.name;if(e.size>4<<20)HS.value=`${e.name} is over 4 MiB long: is it the right file?`;else try{let n=e=>yt(`PUT`,`/api/readings/${encodeURIComponent(t)}`,{text:r,base:e}),r=await e.text(),i;try{i=await n(BS.value?.version??``)}catch(n){if(!(n instanceof ht)||n.status!==409)throw n;await iC(t),HS.value=`Another log was put there meanwhile; this page shows it now. Choose ${e.name} once more to put it in its place.`;return}BS.value=i,HS.value=``,At.value=`${e.name} is kept as ${i.name}.`,i.problems.length===0&&oC()}catch(e){HS.value=St(e)}}async function oC(){let e=rC();await qS.run(`/api/verify`,QS())&&(JS.value=e)}function sC({list:e,what:t,onGo:n}){let r=e=>Y(`code`,{children:[e.file??``,e.line?String(e.line):``].filter(Boolean).join(`:`)});return Y(`div`,{class:`problems`,role:`alert`,children:[Y(`h3`,{children:e.length===1?`A mistake in ${t}`:`${e.length} mistakes in ${t}`}),Y(`ul`,{children:e.map((e,t)=>Y(`li`,{children:[n&&e.line?Y(`button`,{type:`button`,class:`head`,onClick:()=>n(e.line),children:r(e)}):r(e),e.key?`, column ${e.key}`:``,`: `,e.what,e.hint&&Y(`small`,{children:e.hint})]},t))})]})}function cC({label:e,onFile:t,children:n}){let r=ot(!1);return Y(`div`,{class:`drop ${r.value?`over`:``}`,onDragOver:e=>(e.preventDefault(),r.value=!0),onDragLeave:()=>r.value=!1,onDrop:e=>{e.preventDefault(),r.value=!1;let n=e.dataTransfer?.files[0];n&&t(n)},children:[Y(`label`,{children:[e,` `,Y(`input`,{type:`file`,accept:`.csv,text/csv,text/plain`,onChange:e=>{let n=e.currentTarget.files?.[0];n&&t(n),e.currentTarget.value=``}})]}),n]})}var lC=(e,t=4)=>`${J(e*1e3,t)} mT`;function uC(e,t,n=3){return t===`1`?`${J(100*e,n)} %`:t===`m`?Pn(e,n):t===`rad`?`${J(180/Math.PI*e,n)}°`:t===`T`?lC(e,n):t===`ppm`?Ln(e):`${J(e,n)} ${t}`}var dC=(e,t)=>t===`T`?In(e,5):uC(e,t);function fC(e,t,n){let[r,i]=n===`T`?Math.abs(e)>=.01?[1,`T`]:[1e3,`mT`]:n===`ppm`&&Math.abs(e)>=1e4?[1e-4,`%`]:[1,n],a=t>0?Math.min(8,Math.max(0,1-Math.floor(Math.log10(r*t)))):3;return`${(r*e).toFixed(a)} ± ${(r*t).toFixed(a)} ${i}`.replaceAll(`-`,`−`)}function pC(e){let[t,n]=e.unit===`1`?[100,`%`]:e.unit===`m`?[Nn(),Mn()]:e.unit===`rad`?[180/Math.PI,`°`]:e.unit===`T`?[1e3,`mT`]:[1,e.unit],r=Math.min(6,Math.max(0,2-Math.floor(Math.log10(t*e.usual_spread)))),i=+(t*e.value).toFixed(r)||0;return`${i>0?`+`:``}${i.toFixed(r)}${e.standard_uncertainty>0?` ± ${(t*e.standard_uncertainty).toFixed(r)}`:``} ${n}`.replaceAll(`-`,`−`)}var mC=e=>`x ${Pn(e[0])}, y ${Pn(e[1])}, z ${Pn(e[2])}`;function hC({v:e}){return Y(x,{children:[Y(`p`,{class:`verdict ${e.verdict===`met`?`good`:e.verdict===`not met`?`bad`:`open`}`,role:`status`,children:[Y(`strong`,{children:e.verdict===`met`?`✓ Met`:e.verdict===`not met`?`✗ Not met`:`? Undecided`}),` `,e.reason]}),Y(`p`,{children:[`With `,J(100*e.as_designed_probability,3),` % nothing is off beyond the usual spreads of probe and readings. Intervals hold with `,J(100*e.confidence,3),` %. The prediction itself is good to about `,J(e.estimated_error_percent,2),` %.`]}),e.checks.length>0&&Y(`table`,{class:`list`,children:[Y(`caption`,{children:`Against the target`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`What`}),Y(`th`,{scope:`col`,children:`Wanted`}),Y(`th`,{scope:`col`,children:`By the design`}),Y(`th`,{scope:`col`,children:`As built`}),Y(`th`,{scope:`col`,children:`Chance that it is met`}),Y(`th`,{scope:`col`,children:`Verdict`})]})}),Y(`tbody`,{children:e.checks.map(e=>Y(`tr`,{class:e.verdict===`met`?`good`:e.verdict===`not met`?`bad`:``,children:[Y(`th`,{scope:`row`,children:e.what}),Y(`td`,{class:`number`,children:[e.at_most?`at most`:`at least`,` `,dC(e.wanted,e.unit)]}),Y(`td`,{class:`number`,children:dC(e.designed,e.unit)}),Y(`td`,{class:`number`,children:fC(e.got,e.uncertainty,e.unit)}),Y(`td`,{class:`number`,children:[J(100*e.probability,3),` %`]}),Y(`td`,{children:e.verdict})]},e.what))})]}),Y(`h3`,{children:`What is off`}),e.findings.length>0?Y(`ul`,{children:e.findings.map((e,t)=>Y(`li`,{children:[Y(`strong`,{children:e.text}),` `,Y(`small`,{children:[`with `,J(100*e.confidence,3),` %`]})]},t))}):Y(`p`,{children:`The readings single out nothing: no part is named where they do not show it.`}),e.suspects.length>0&&Y(x,{children:[Y(`p`,{children:e.findings.length>0?`In its place it may be:`:`It may be, and the readings do not tell which:`}),Y(`ul`,{children:e.suspects.map((e,t)=>Y(`li`,{children:[e.text,` `,Y(`small`,{children:[`with `,J(100*e.confidence,3),` %`]})]},t))})]}),e.next_reading&&Y(`p`,{class:`caution`,children:[Y(`strong`,{children:`Read next:`}),` `,e.next_reading.component,` at `,mC(e.next_reading.at_m),e.next_reading.readings>1?`, ${e.next_reading.readings} times`:``,`. It tells “`,e.next_reading.between[0],`” (`,lC(e.next_reading.expected_T[0]),`) from “`,e.next_reading.between[1],`” (`,lC(e.next_reading.expected_T[1]),`).`]}),e.alike.length>0&&Y(`p`,{children:[`These readings do not tell apart: `,e.alike.map(e=>`${e[0]} and ${e[1]}`).join(`; `),`.`]}),e.unseen.length>0&&Y(`p`,{children:[`These readings say nothing of: `,e.unseen.join(`, `),`.`]}),e.wrong_lines.length>0&&Y(`p`,{class:`warning`,children:[`Readings that fit in with nothing, lines `,e.wrong_lines.join(`, `),`: read those places again.`]}),e.warnings.map(e=>Y(`p`,{class:`warning`,children:e},e))]})}function gC({v:e,stale:t}){let n=tC(e),r=nC(e),i=e.readings.map((e,t)=>({...e,number:t+1})).filter(e=>e.component===r),a=[0,1,2].find(e=>[0,1,2].every(t=>t===e||i.every(e=>Math.abs(e.at_m[t]-i[0].at_m[t])<1e-7))&&new Set(i.map(t=>t.at_m[e])).size===i.length&&i.length>1),o=a===void 0?i:[...i].sort((e,t)=>e.at_m[a]-t.at_m[a]),s=o.map(e=>a===void 0?e.number:+(e.at_m[a]*Nn()).toPrecision(7)),c=a===void 0?`reading number`:`${`xyz`[a]}, ${Mn()}`,l=a!==void 0,u=[{name:`design predicts`,x:s,y:o.map(e=>e.predicted_T*1e3),points:!l},{name:`with what is off`,x:s,y:o.map(e=>e.fitted_T*1e3),points:!l},{name:`read, corrected`,x:s,y:o.map(e=>e.corrected_T*1e3),points:!0}],d=e=>e.corrected_T-(eC.value?e.fitted_T:e.predicted_T),f=[{name:`difference`,x:s,y:o.map(e=>d(e)*1e3),points:!0},{name:`twice its uncertainty`,x:s,y:o.map(e=>2e3*e.standard_uncertainty_T)},{name:`and below`,x:s,y:o.map(e=>-2e3*e.standard_uncertainty_T)}],p=eC.value?`with what is off`:`of the design`;return Y(`section`,{"aria-label":`Charts of the readings`,children:[Y(`h3`,{children:`Predicted and read`}),Y(`p`,{class:`row`,children:[n.length>1&&Y(`label`,{children:[`Component `,Y(`select`,{value:r,onChange:e=>$S.value=e.currentTarget.value,children:n.map(e=>Y(`option`,{children:e},e))})]}),Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:eC.value,onChange:e=>eC.value=e.currentTarget.checked}),` differences from the fit, what is off allowed for`]}),Y(`span`,{children:[`rms `,lC(eC.value?e.residual_rms_T:e.difference_rms_T,3)]})]}),Y(`div`,{class:`two`,children:[Y(zx,{title:`${r}: predicted and read`,xName:c,yName:`${r}, mT`,curves:u,stale:t}),Y(zx,{title:`${r}: reading less the prediction ${p}`,xName:c,yName:`difference, mT`,curves:f,levels:[{name:``,y:0}],stale:t})]}),Y(Rr,{list:Er.value?.list??[],title:`${r}: reading less the prediction ${p}, by place`,stale:t}),Y(Sg,{editing:!1}),Y(`details`,{children:[Y(`summary`,{children:`Every reading`}),Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Line`}),Y(`th`,{scope:`col`,children:`Place`}),Y(`th`,{scope:`col`,children:`What`}),Y(`th`,{scope:`col`,children:`Read`}),Y(`th`,{scope:`col`,children:`Corrected`}),Y(`th`,{scope:`col`,children:`Predicted`}),Y(`th`,{scope:`col`,children:`Difference`}),Y(`th`,{scope:`col`,children:`Uncertainty`})]})}),Y(`tbody`,{children:e.readings.slice(0,2e3).map((e,t)=>Y(`tr`,{class:e.wrong?`bad`:``,children:[Y(`th`,{scope:`row`,children:e.line}),Y(`td`,{children:mC(e.at_m)}),Y(`td`,{children:[e.component,e.wrong&&` fits in with nothing`]}),Y(`td`,{class:`number`,children:lC(e.read_T)}),Y(`td`,{class:`number`,children:lC(e.corrected_T)}),Y(`td`,{class:`number`,children:lC(e.predicted_T)}),Y(`td`,{class:`number`,children:[Nr((e.corrected_T-e.predicted_T)*1e3),` mT`]}),Y(`td`,{class:`number`,children:lC(e.standard_uncertainty_T,2)})]},t))})]})})]})]})}function _C(){let e=Tt.value.name;B(()=>{VS.value!==e&&(BS.value=null,HS.value=``,qS.cancel(),qS.state.value={answer:null,of:``,running:null,fault:``},VS.value=e),iC(e)},[e]);let t=BS.value,n=qS.state.value,r=n.answer,i=!!t&&t.version!==``&&t.problems.length===0,a=r!==null&&JS.value!==rC(),o=e.replace(/\.toml$/i,``);B(()=>{i&&Vt.value&&!r&&!n.running&&!n.fault&&oC()},[i,Vt.value]);let s=async e=>{let t=await YS.run(`/api/sheet`,{...Gt(),accuracy:`standard`,probe:US.value.trim(),format:e,paper:An.value?`letter`:`A4`});t&&Lx(t,e===`csv`?`${o}-to-fill-in.csv`:`${o}-sheet.${e}`)},c=async()=>{let e=await XS.run(`/api/certificate`,{...QS(),format:`pdf`,paper:An.value?`letter`:`A4`});e&&Lx(e,`${o}-certificate.pdf`)};return Y(`main`,{class:`sheet`,id:`main`,tabIndex:-1,children:[Y(`h2`,{children:`Measure it: did I get it?`}),Y(`p`,{class:`caution`,children:`Hold the probe in a stand and keep hands, steel tools and watches out of the gap: a steel tool that is drawn in can break magnets and fingers. Keep pacemakers away. Let magnet and probe reach the temperature of the room first.`}),Y(`section`,{children:[Y(`h3`,{children:`1. The sheet to measure by`}),Y(`p`,{children:`Where to read, what the probe should show there, and the band in which a sound build lies. Print it, or fill in the log and drop it below.`}),Y(`div`,{class:`row`,children:Y(`label`,{children:[`Probe’s active area `,Y(`input`,{type:`text`,value:US.value,onInput:e=>US.value=e.currentTarget.value,placeholder:i&&t.probe!==`point`?t.probe:`point, disc 2 mm, rectangle 1 mm x 2 mm`,size:34})]})}),Y(`div`,{class:`row`,children:[Y($n,{work:YS,disabled:!Vt.value,onStart:()=>void s(`pdf`),children:`Sheet as PDF`}),!YS.state.value.running&&Y(`button`,{type:`button`,disabled:!Vt.value,onClick:()=>void s(`csv`),children:`Log to fill in (CSV)`})]})]}),Y(`section`,{children:[Y(`h3`,{children:`2. The readings`}),Y(cC,{label:`Drop a log here, or choose one (CSV)`,onFile:e=>void aC(e),children:Y(`p`,{children:Y(`small`,{children:[`A header such as `,Y(`code`,{children:`x_mm,y_mm,z_mm,Bz_mT`}),`; where wanted `,Y(`code`,{children:`T_degC`}),` and `,Y(`code`,{children:`u_mT`}),`. It is kept as `,t?.name??`a file`,` beside the design, in the place of the one before, and is there again after a reload.`]})})}),HS.value&&Y(`p`,{class:`fault`,role:`alert`,children:HS.value}),t&&t.version!==``&&t.problems.length===0&&Y(`p`,{children:[Y(`strong`,{children:t.name}),`: `,t.count,` readings, probe: `,US.value.trim()||t.probe,`.`]}),t&&t.problems.length>0&&Y(sC,{list:t.problems,what:t.name}),t&&t.version===``&&Y(`p`,{children:`There is no log yet.`}),Y(`details`,{children:[Y(`summary`,{children:`How sure readings are`}),Y(`div`,{class:`row`,children:[Y(`label`,{children:[`Uncertainty of a reading, % `,Y(`input`,{type:`text`,inputMode:`decimal`,size:6,value:WS.value,onInput:e=>WS.value=e.currentTarget.value,placeholder:`by scatter`})]}),Y(`label`,{children:[`of its place, `,Mn(),` `,Y(`input`,{type:`text`,inputMode:`decimal`,size:6,value:GS.value,onInput:e=>GS.value=e.currentTarget.value,placeholder:An.value?`0.002`:`0.05`})]}),Y(`label`,{children:[`Confidence, % `,Y(`input`,{type:`text`,inputMode:`decimal`,size:6,value:KS.value,onInput:e=>KS.value=e.currentTarget.value})]})]}),Y(`p`,{children:Y(`small`,{children:`One standard deviation each. Left empty, the scatter of the readings says how sure they are, and a place is taken to be good to 0.05 mm (common practice, no source).`})})]}),i&&Y($n,{work:qS,disabled:!Vt.value,onStart:()=>void oC(),children:r&&!a?`Compare again`:`Compare with the design`}),!Vt.value&&Y(`p`,{children:`The design has mistakes: mend them first.`})]}),r&&Y(`section`,{class:a?`stale`:``,"aria-label":`Verdict`,children:[Y(`h3`,{children:[`3. The verdict`,a&&Y(`em`,{class:`staleword`,children:` of an earlier design, log or setting`})]}),Y(hC,{v:r}),Y(gC,{v:r,stale:a}),Y(`h3`,{children:`Corrections used`}),Y(`table`,{class:`list`,children:Y(`tbody`,{children:[Y(er,{what:`Temperature`,value:`${J(r.reference_degC,3)} °C`,note:`readings with a temperature are brought to it, by the magnets’ coefficients`}),Y(er,{what:`Probe`,value:r.probe,note:`the prediction is averaged over its active area`}),Y(er,{what:`Uncertainty of readings`,value:r.noise}),r.instrument.map((e,t)=>Y(er,{what:`Probe’s ${e.what}`,value:pC(e),note:`usual ${uC(e.usual_spread,e.unit,2)}`},t))]})}),Object.keys(r.notes).length>0&&Y(`details`,{children:[Y(`summary`,{children:`Notes of the log`}),Y(`table`,{class:`list`,children:Y(`tbody`,{children:Object.entries(r.notes).map(([e,t])=>Y(er,{what:e,value:t},e))})})]}),Y(`h3`,{children:`4. The certificate`}),Y(`p`,{children:`What was measured against prediction and target, with hashes of the design and the log.`}),Y($n,{work:XS,disabled:!i||!Vt.value||a,onStart:()=>void c(),children:`Certificate as PDF`})]})]})}var vC=K(null),yC=K(null),bC=K(``),xC=K(null),SC=null,CC=()=>({path:``,also:``,how:`range`,from:``,to:``,count:`5`,list:``}),wC=K(`sweep`),TC=K([CC()]),EC=K(`draft`),DC=K([{most:!1,figure:`mass`}]),OC=K([]),kC=K(``),AC=K(`0`),jC=e=>Et.value?.parameters.find(t=>t.path===e);async function MC(){try{vC.value=await yt(`GET`,`/api/studies`),bC.value=``}catch(e){bC.value=St(e)}}var NC=e=>e.state===`running`||e.state===`waiting`;async function PC(e){SC?.abort();let t=SC=new AbortController;try{let n=await yt(`GET`,`/api/studies/${e}`,void 0,t.signal);if(yC.value=n,!NC(n)||(n=await bt(`/api/follow`,{study:e,rows:n.rows.length},t.signal,(e,n)=>{!t.signal.aborted&&yC.value&&(e===`standing`&&(yC.value={...yC.value,...n}),e===`rows`&&(yC.value={...yC.value,rows:[...yC.value.rows,...n]}))}),t.signal.aborted))return;yC.value=n,At.value=`The ${n.kind===`tolerance`?`study of builds`:n.kind} is ${n.state}${n.rows.length?`: ${n.done} solved${n.failed?`, ${n.failed} failed`:``}`:``}.`}catch(e){t.signal.aborted||xt(e)||gt.value||(bC.value=St(e))}finally{t.signal.aborted||MC()}}async function FC(e,t){try{await yt(`POST`,e,{study:t}),bC.value=``,await PC(t)}catch(e){bC.value=St(e)}}async function IC(e){try{await yt(`DELETE`,`/api/studies/${e}`),yC.value?.name===e&&(yC.value=null),await MC()}catch(e){bC.value=St(e)}}async function LC(e){try{Lx(await yt(`POST`,`/api/table`,{study:e}))}catch(e){bC.value=St(e)}}async function RC(e){try{await tn(...e.settings),At.value=`Taken into the design. Undo brings the one before back.`,Dt.value=`answer`}catch(e){bC.value=St(e)}}var zC=(e,t)=>t&&/^[-+−]?[\d.,]+$/.test(e.trim())?`${e.trim().replace(`,`,`.`)} ${[`mm`,`in`].includes(t)?Mn():t}`:e.trim().replace(/^(\d+),(\d+)/,`$1.$2`);function BC(e){let t=jC(e.path)?.unit,n=e.path+(e.also?` & ${e.also}`:``);return e.how===`list`||jC(e.path)?.kind===`text`?`${n} = ${e.list.split(`,`).map(e=>zC(e,t)).join(`, `)}`:`${n} = ${zC(e.from,t)} .. ${zC(e.to,t)} in ${e.count.trim()}`}function VC(){return TC.value.reduce((e,t)=>e*(t.how===`list`||jC(t.path)?.kind===`text`?t.list.split(`,`).filter(e=>e.trim()).length:Number(t.count)||0),1)}async function HC(){let e=wC.value,t=xC.value&&xC.value.version&&xC.value.problems.length===0?xC.value.text:``,n={...Gt(),kind:e,accuracy:EC.value,...e===`tolerance`?{solves:Number(AC.value)||0,seed:1}:{vary:TC.value.map(BC),stock:t}};e===`search`&&(n.least=DC.value.filter(e=>!e.most).map(e=>e.figure),n.most=DC.value.filter(e=>e.most).map(e=>e.figure),n.limits=OC.value.filter(e=>e.value.trim()).map(e=>`${e.figure} ${e.sign} ${zC(e.value,vC.value?.figures.find(t=>t.name===e.figure)?.show)}`),n.solves=Number(kC.value)||0);try{let e=await yt(`POST`,`/api/studies`,n);bC.value=``,MC(),await PC(e.name)}catch(e){bC.value=St(e)}}var UC=e=>!e.path.startsWith(`tolerance.`)&&!/\.(name|shape|axis)$/.test(e.path)&&e.path!==`layout.kind`&&(e.given||e.path.startsWith(`layout.`));function WC({v:e,i:t}){let n=e=>TC.value=TC.value.map((n,r)=>r===t?{...n,...e}:n),r=(Et.value?.parameters??[]).filter(UC),i=jC(e.path),a=e=>{let t=jC(e),r=/^\s*([-+−]?[\d.]+)/.exec(t?.value??``),i=r?Number(r[1].replace(`−`,`-`)):NaN;n(Number.isFinite(i)?{path:e,also:``,how:`range`,from:String(+(.8*i).toPrecision(3)),to:String(+(1.2*i).toPrecision(3)),list:``}:{path:e,also:``,how:`list`,list:t?.value??``})},o=[[`Layout`,e=>e.path.startsWith(`layout.`)],[`Parts`,e=>!e.path.startsWith(`layout.`)&&!e.path.startsWith(`target.`)],[`Wishes`,e=>e.path.startsWith(`target.`)]],s=e=>o.map(([t,n])=>[t,r.filter(t=>n(t)&&e(t))]).filter(([,e])=>e.length).map(([e,t])=>Y(`optgroup`,{label:e,children:t.map(e=>Y(`option`,{value:e.path,children:`${e.path.startsWith(`layout.`)||e.path.startsWith(`target.`)?Yn(e.path):e.path}, now ${e.value||`not set`}`},e.path))},e)),c=i?.kind===`text`;return Y(`fieldset`,{class:`inset`,children:[Y(`legend`,{children:i?Yn(i.path):`Parameter ${t+1}`}),Y(`div`,{class:`row`,children:[Y(`label`,{children:[`Vary `,Y(`select`,{value:e.path,onChange:e=>a(e.currentTarget.value),children:[Y(`option`,{value:``,children:`choose a parameter`}),s(()=>!0)]})]}),i&&!c&&Y(`label`,{children:[`values `,Y(`select`,{value:e.how,onChange:e=>n({how:e.currentTarget.value}),children:[Y(`option`,{value:`range`,children:`from … to`}),Y(`option`,{value:`list`,children:`a list`})]})]}),i&&!c&&e.how===`range`&&Y(x,{children:[Y(`label`,{children:[`from `,Y(`input`,{type:`text`,inputMode:`decimal`,size:8,value:e.from,onInput:e=>n({from:e.currentTarget.value})})]}),Y(`label`,{children:[`to `,Y(`input`,{type:`text`,inputMode:`decimal`,size:8,value:e.to,onInput:e=>n({to:e.currentTarget.value})})]}),Y(`span`,{children:[`mm`,`in`].includes(i.unit??``)?Mn():i.unit}),Y(`label`,{children:[`in `,Y(`input`,{type:`text`,inputMode:`numeric`,size:4,value:e.count,onInput:e=>n({count:e.currentTarget.value})}),` values`]})]}),i&&(c||e.how===`list`)&&Y(`label`,{children:[`values, with commas `,Y(`input`,{type:`text`,size:32,value:e.list,onInput:e=>n({list:e.currentTarget.value}),placeholder:c?`N42, N45, N48`:`14, 16, 18 ${i.unit??``}`})]}),TC.value.length>1&&Y(`button`,{type:`button`,onClick:()=>TC.value=TC.value.filter((e,n)=>n!==t),"aria-label":`Take away ${i?Yn(i.path):`parameter ${t+1}`}`,children:`Take away`})]}),i&&!e.path.startsWith(`layout.`)&&Y(`div`,{class:`row`,children:Y(`label`,{children:[`Give the same value to `,Y(`select`,{value:e.also,onChange:e=>n({also:e.currentTarget.value}),children:[Y(`option`,{value:``,children:`nothing else`}),s(t=>t.kind===i.kind&&t.path!==e.path&&t.path.split(`.`).at(-1)===e.path.split(`.`).at(-1))]})]})})]})}function GC(){let e=wC.value,t=vC.value?.figures??[],n=VC(),r=Vt.value&&(e===`tolerance`||TC.value.every(e=>e.path)),i=(e,n,r)=>Y(`select`,{"aria-label":r,value:e,onChange:e=>n(e.currentTarget.value),children:t.map(e=>Y(`option`,{value:e.name,children:[e.name,e.show?`, ${e.show}`:``]},e.name))});return Y(`section`,{children:[Y(`h3`,{children:[`A new study of `,Tt.value?.name]}),Y(`div`,{class:`choices`,role:`group`,"aria-label":`Kind of study`,children:[[`sweep`,`Sweep`],[`tolerance`,`How builds will differ`],[`search`,`Search`]].map(([t,n])=>Y(`button`,{type:`button`,"aria-pressed":e===t,onClick:()=>wC.value=t,children:n},t))}),Y(`p`,{children:{sweep:`Solve the design at every value of the parameters that you choose, and see what each gives.`,tolerance:`Let magnets, gap, winding and temperature stray as in a workshop: how the field spreads, which cause has which share, how many builds meet the target, which shims help.`,search:`Find the lightest, the cheapest or the strongest design that keeps its limits, with few solves; with two aims the front between both.`}[e]}),e!==`tolerance`&&Y(x,{children:[TC.value.map((e,t)=>Y(WC,{v:e,i:t},t)),Y(`p`,{class:`row`,children:[TC.value.length<6&&Y(`button`,{type:`button`,onClick:()=>TC.value=[...TC.value,CC()],children:`Vary another`}),Y(`span`,{children:TC.value.every(e=>e.path)&&n>0?`${n} designs${e===`search`?`, of which a small part is solved`:``}`:``})]})]}),e===`search`&&Y(`div`,{class:`inset`,children:[DC.value.map((e,t)=>Y(`p`,{class:`row`,children:[Y(`span`,{children:t===0?`Find the`:`and the`}),Y(`select`,{"aria-label":`Aim ${t+1}: least or most`,value:e.most?`most`:`least`,onChange:e=>DC.value=DC.value.map((n,r)=>r===t?{...n,most:e.currentTarget.value===`most`}:n),children:[Y(`option`,{value:`least`,children:`least`}),Y(`option`,{value:`most`,children:`most`})]}),i(e.figure,e=>DC.value=DC.value.map((n,r)=>r===t?{...n,figure:e}:n),`Aim ${t+1}: figure`),t===1&&Y(`button`,{type:`button`,onClick:()=>DC.value=DC.value.slice(0,1),children:`One aim alone`})]},t)),DC.value.length===1&&Y(`p`,{class:`row`,children:Y(`button`,{type:`button`,onClick:()=>DC.value=[...DC.value,{most:!0,figure:`gap field`}],children:`A second aim: the front between both`})}),OC.value.map((e,t)=>Y(`p`,{class:`row`,children:[Y(`span`,{children:`keeping`}),i(e.figure,e=>OC.value=OC.value.map((n,r)=>r===t?{...n,figure:e}:n),`Limit ${t+1}: figure`),Y(`select`,{"aria-label":`Limit ${t+1}: sign`,value:e.sign,onChange:e=>OC.value=OC.value.map((n,r)=>r===t?{...n,sign:e.currentTarget.value}:n),children:[Y(`option`,{value:`>=`,children:`at least`}),Y(`option`,{value:`<=`,children:`at most`})]}),Y(`input`,{type:`text`,size:10,"aria-label":`Limit ${t+1}: value with its unit`,value:e.value,onInput:e=>OC.value=OC.value.map((n,r)=>r===t?{...n,value:e.currentTarget.value}:n),placeholder:`0.8 T`}),Y(`button`,{type:`button`,onClick:()=>OC.value=OC.value.filter((e,n)=>n!==t),"aria-label":`Take away limit ${t+1}`,children:`Take away`})]},t)),Y(`p`,{class:`row`,children:[Y(`button`,{type:`button`,onClick:()=>OC.value=[...OC.value,{figure:`gap field`,sign:`>=`,value:``}],children:`Add a limit`}),OC.value.length===0&&Y(`small`,{children:`Without one, what you need (step 1) is the limit.`})]}),Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Most solves `,Y(`input`,{type:`text`,inputMode:`numeric`,size:6,value:kC.value,onInput:e=>kC.value=e.currentTarget.value,placeholder:`usual`})]}),DC.value.some(e=>e.figure===`cost`)&&Y(`small`,{children:xC.value?.version?`Prices from ${xC.value.name} in the folder.`:`Costs need a list of stock: the Build page takes one.`})]})]}),e===`tolerance`&&Y(x,{children:[Y(`details`,{class:`inset`,children:[Y(`summary`,{children:`How parts stray: one standard deviation of each; what is not set is taken as usual`}),Y(Zn,{test:e=>e.startsWith(`tolerance.`)})]}),Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Builds to solve one by one beside it `,Y(`input`,{type:`text`,inputMode:`numeric`,size:6,value:AC.value,onInput:e=>AC.value=e.currentTarget.value})]}),Y(`small`,{children:`0: thousands of builds are drawn from the sensitivities, which takes two solves a cause.`})]})]}),Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Accuracy `,Y(`select`,{value:EC.value,onChange:e=>EC.value=e.currentTarget.value,children:[Y(`option`,{value:`draft`,children:`draft, soonest`}),Y(`option`,{value:`standard`,children:`standard`})]})]}),Y(`button`,{type:`button`,class:`main`,disabled:!r,onClick:()=>void HC(),children:`Start the study`})]})]})}var KC={waiting:`waits`,running:`runs`,done:`done`,stopped:`stopped`,interrupted:`interrupted`,failed:`failed`};function qC(){let e=(vC.value?.studies??[]).map(e=>e.name===yC.value?.name?yC.value:e);return e.length===0?null:Y(`section`,{children:[Y(`h3`,{children:`Studies of this folder`}),Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Begun`}),Y(`th`,{scope:`col`,children:`Kind`}),Y(`th`,{scope:`col`,children:`Design`}),Y(`th`,{scope:`col`,children:`State`}),Y(`th`,{scope:`col`,children:`Solved`}),Y(`th`,{scope:`col`,children:Y(`span`,{class:`visually-hidden`,children:`Do`})})]})}),Y(`tbody`,{children:e.map(e=>{let t=new Date(e.begun).toLocaleString();return Y(`tr`,{class:e.state===`failed`?`bad`:``,children:[Y(`th`,{scope:`row`,children:t}),Y(`td`,{children:e.kind}),Y(`td`,{children:e.file||`–`}),Y(`td`,{children:KC[e.state]??e.state}),Y(`td`,{class:`number`,children:[e.done,e.total?` of ${e.total}`:``,e.failed?`, ${e.failed} failed`:``]}),Y(`td`,{class:`row`,children:[Y(`button`,{type:`button`,"aria-pressed":yC.value?.name===e.name,onClick:()=>void PC(e.name),"aria-label":`Show the ${e.kind} of ${t}`,children:`Show`}),!NC(e)&&e.state!==`done`&&Y(`button`,{type:`button`,onClick:()=>void FC(`/api/resume`,e.name),"aria-label":`Go on with the ${e.kind} of ${t}`,children:`Go on`}),!NC(e)&&Y(`button`,{type:`button`,onClick:()=>void IC(e.name),"aria-label":`Take away the ${e.kind} of ${t}`,children:`Take away`})]})]},e.name)})})]})}),Y(`p`,{children:Y(`small`,{children:[`They lie in `,vC.value?.folder,`, with the answers of their solves: the same design is not solved twice.`]})})]})}var JC=K(``),YC=e=>e.show===`mm`&&An.value?{times:1/.0254,unit:`in`}:{times:e.times,unit:e.show},XC=(e,t)=>t?`${e}, ${t}`:e;function ZC(e){let t=new Set;return e.map(e=>{let n=e;for(let r=1;t.has(n);r++)n=e*(1+r*1e-9)+r*1e-15;return t.add(n),n})}function QC({s:e}){let t=e.figures.some(e=>e.name===JC.value)?JC.value:e.figures[0]?.name,n=e.figures.find(e=>e.name===t),r=e.paths.findIndex((t,n)=>e.rows.some(e=>e.values[n]!==null&&e.values[n]!==void 0));if(!n||e.rows.length===0)return null;let i=YC(n),a=new Map;for(let t of[...e.rows].sort((e,t)=>e.index-t.index)){let n=e.paths.map((n,i)=>i===r?``:`${n.split(`.`).at(-1)} ${$C(e,t,i)}`).filter(Boolean).join(`, `);a.set(n,[...a.get(n)??[],t])}let o=[...a].slice(0,8).map(([e,t])=>{let a=t.filter(e=>e.figures[n.name]!==void 0&&(r<0||typeof e.values[r]==`number`)),o=r<0?a:a.sort((e,t)=>e.values[r]-t.values[r]);return{name:e||n.name,x:o.map(e=>r<0?e.index+1:e.values[r]),y:o.map(e=>e.figures[n.name]*i.times),points:r<0||o.length<2}}).filter(e=>e.x.length);return Y(x,{children:[Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Show `,Y(`select`,{value:t,onChange:e=>JC.value=e.currentTarget.value,children:e.figures.map(e=>Y(`option`,{value:e.name,children:e.name},e.name))})]}),a.size>8&&Y(`small`,{children:[`The first `,8,` of `,a.size,` curves; the table has all.`]})]}),o.length>0&&Y(zx,{title:`${n.name} against ${r<0?`the designs`:e.paths[r]}`,xName:r<0?`number in the table`:XC(e.paths[r],e.units[r]),yName:XC(n.name,i.unit),curves:o,height:320})]})}function $C(e,t,n){let r=e.paths[n].split(` & `)[0];return t.settings.find(e=>e.path===r)?.value??``}function ew({s:e}){let t=e.goals.map(t=>e.figures.find(e=>t===`least ${e.name}`||t===`most ${e.name}`)),n=t[0],r=t[1]??e.figures.find(e=>e.name===`gap field`&&e.name!==n.name)??e.figures.find(e=>e.name!==n.name),i=YC(n),a=YC(r),o=(e,t)=>{let o=t.filter(e=>e.figures[n.name]!==void 0&&e.figures[r.name]!==void 0).sort((e,t)=>e.figures[n.name]-t.figures[n.name]);return{name:e,x:ZC(o.map(e=>e.figures[n.name]*i.times)),y:o.map(e=>e.figures[r.name]*a.times),points:!0}},s=[o(t.length>1?`front`:`best`,e.rows.filter(e=>e.best)),o(`keeps the limits`,e.rows.filter(e=>e.keeps_limits&&!e.best)),o(`does not`,e.rows.filter(e=>!e.keeps_limits&&!e.error))].filter(e=>e.x.length);return s.length===0?null:Y(zx,{title:`${r.name} against ${n.name}`,xName:XC(n.name,i.unit),yName:XC(r.name,a.unit),curves:s,height:320})}function tw({c:e,alt:t}){let n=ot(null);return B(()=>{let t=matchMedia(`(prefers-color-scheme: dark)`),r=()=>void yt(`POST`,`/api/chart`,{...e,dark:t.matches}).then(e=>n.value=e,e=>bC.value=St(e));return r(),t.addEventListener(`change`,r),()=>t.removeEventListener(`change`,r)},[e]),Y(`figure`,{class:`chart`,children:[Y(`figcaption`,{children:[Y(`span`,{children:e.title}),Y(`span`,{class:`tools`,children:Y(`button`,{type:`button`,disabled:!n.value,onClick:()=>Lx(n.value,`${e.title.replaceAll(` `,`-`)}.svg`),"aria-label":`Save "${e.title}" as SVG`,children:`SVG`})})]}),n.value&&Y(`img`,{class:`picture`,src:`data:image/svg+xml;base64,${n.value.base64}`,alt:t})]})}var nw=(e,t=3)=>`${J(100*e,t)} %`;function rw(e,t){return t===`1`?nw(e,2):t===`m`?`${J(e*Nn(),2)} ${Mn()}`:t===`rad`?`${J(180/Math.PI*e,2)}°`:`${J(e,2)} ${t}`}function iw({t:e}){let t=e=>`${nw(e.share)} (${J(100*e.low,3)} to ${J(100*e.high,3)} %)`,n=(t,n)=>e.figures[t].causes.find(e=>e.source===n)?.total??0,r=e.sources.map((e,t)=>t).sort((t,r)=>Math.max(...e.figures.map((e,t)=>n(t,r)))-Math.max(...e.figures.map((e,r)=>n(r,t))));return Y(x,{children:[e.yield&&Y(`p`,{children:[Y(`strong`,{children:t(e.yield)}),` of builds meet the target`,e.yield_by_solves?`; of those solved one by one ${t(e.yield_by_solves)}`:``,`.`]}),Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`caption`,{children:[e.builds,` builds drawn from the sensitivities`,e.solves?`, ${e.solves} solved one by one`:``]}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Figure`}),Y(`th`,{scope:`col`,children:`Design`}),Y(`th`,{scope:`col`,children:`Mean`}),Y(`th`,{scope:`col`,children:`Standard deviation`}),Y(`th`,{scope:`col`,children:`95 % of builds`}),Y(`th`,{scope:`col`,children:`Keep the limit`})]})}),Y(`tbody`,{children:e.figures.map(e=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:e.what}),Y(`td`,{class:`number`,children:[J(e.design,5),` `,e.unit]}),Y(`td`,{class:`number`,children:[J(e.by_sensitivities.mean,5),` `,e.unit]}),Y(`td`,{class:`number`,children:[J(e.by_sensitivities.sd,3),` `,e.unit]}),Y(`td`,{class:`number`,children:[J(e.by_sensitivities.p2_5,4),` to `,J(e.by_sensitivities.p97_5,4),` `,e.unit]}),Y(`td`,{class:`number`,children:e.within?nw(e.within.share):`–`})]},e.what))})]})}),Y(`div`,{class:`two`,children:e.histograms.map((e,t)=>Y(tw,{c:e,alt:`Histogram of the builds’ ${e.title}; its numbers are in the table`},t))}),Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`caption`,{children:`Causes, the largest first: share of the variance, with what a cause does together with others`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Cause`}),Y(`th`,{scope:`col`,children:`Strays by`}),e.figures.map(e=>Y(`th`,{scope:`col`,children:e.what},e.what))]})}),Y(`tbody`,{children:r.filter(t=>e.figures.some((e,r)=>n(r,t)>=5e-4)).slice(0,16).map(t=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:e.sources[t].what}),Y(`td`,{class:`number`,children:[rw(e.sources[t].spread,e.sources[t].unit),!e.sources[t].given&&Y(`small`,{children:` usual`})]}),e.figures.map((e,r)=>Y(`td`,{class:`number`,children:[n(r,t)<5e-4?`–`:nw(n(r,t),2),` `,Y(`svg`,{class:`share`,viewBox:`0 0 100 8`,preserveAspectRatio:`none`,"aria-hidden":`true`,children:Y(`rect`,{width:100*Math.min(1,n(r,t)),height:`8`})})]},e.what))]},t))})]})}),e.trim&&Y(`p`,{children:[`Shims of `,e.trim.shims_m.map(e=>`${J(e*Nn(),3)}`).join(`, `),` `,Mn(),` at each spacer, which is made `,J(e.trim.spacer_shorter_by_m*Nn(),3),` `,Mn(),` shorter, bring `,nw(e.trim.yield_with.share),` into the target, without them `,nw(e.trim.yield_without.share),`.`,e.trim.not_cured.length?` Shims do not cure: ${e.trim.not_cured.join(`, `)}.`:``]}),e.notes.map(e=>Y(`p`,{children:Y(`small`,{children:[e,`.`]})},e))]})}function aw({s:e}){let t=ot(null),n=ot(!1),r=(e,t)=>t.startsWith(`#`)?e.values[+t.slice(1)]??e.index:e.figures[t]??1/0,i=e=>e.best?0:e.keeps_limits?1:2,a=[...e.rows].sort((n,a)=>(t.value?(r(n,t.value.column)-r(a,t.value.column))*(t.value.down?-1:1):0)||(e.kind===`search`&&!t.value?i(n)-i(a):0)||n.index-a.index),o=n.value?a:a.slice(0,100),s=(e,n)=>{let r=t.value?.column===e;return Y(`th`,{scope:`col`,"aria-sort":r?t.value.down?`descending`:`ascending`:`none`,children:Y(`button`,{type:`button`,class:`head`,onClick:()=>t.value={column:e,down:r?!t.value.down:!1},children:[n,r?t.value.down?` ↓`:` ↑`:``]})},e)};if(e.rows.length===0)return null;let c=e.kind!==`tolerance`&&e.asked.file===(Tt.value?.name??``);return Y(x,{children:[Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`caption`,{children:e.kind===`tolerance`?`Builds that were solved one by one`:`Designs`}),Y(`thead`,{children:Y(`tr`,{children:[e.kind===`tolerance`&&Y(`th`,{scope:`col`,children:`Build`}),e.paths.map((e,t)=>s(`#${t}`,e)),e.figures.map(e=>s(e.name,XC(e.name.replaceAll(`_`,` `),e.name.includes(`_`)?``:YC(e).unit))),e.kind===`search`&&Y(`th`,{scope:`col`,children:`Limits`}),Y(`th`,{scope:`col`,children:Y(`span`,{class:`visually-hidden`,children:`Take`})})]})}),Y(`tbody`,{children:o.map(t=>Y(`tr`,{class:t.best?`good`:``,children:[e.kind===`tolerance`&&Y(`th`,{scope:`row`,children:t.index+1}),e.paths.map((n,r)=>Y(`td`,{class:`number`,children:$C(e,t,r)},r)),t.error?Y(`td`,{colSpan:e.figures.length,class:`fault`,children:t.error}):e.figures.map(e=>Y(`td`,{class:`number`,children:t.figures[e.name]===void 0?`–`:J(t.figures[e.name]*YC(e).times,4)},e.name)),e.kind===`search`&&Y(`td`,{children:t.best?e.goals.length>1?`on the front`:`best`:t.keeps_limits?`kept`:t.error?``:`not kept`}),Y(`td`,{children:c&&!t.error&&Y(`button`,{type:`button`,onClick:()=>void RC(t),"aria-label":`Take this design: ${t.settings.map(e=>`${e.path} ${e.value}`).join(`, `)}`,children:`Take this design`})})]},t.index))})]})}),Y(`p`,{class:`row`,children:[a.length>100&&!n.value&&Y(`button`,{type:`button`,onClick:()=>n.value=!0,children:[`Show all `,a.length]}),Y(`button`,{type:`button`,onClick:()=>void LC(e.name),children:`Save the table as CSV`}),e.kind!==`tolerance`&&!c&&Y(`small`,{children:[`It is a study of `,e.asked.file,`: open that design to take one.`]}),c&&e.asked.text!==q.value&&Y(`small`,{children:`The design was changed since: a row’s parameters are put into it as it is now.`})]})]})}function ow({s:e}){let t=NC(e),n=[e.total?`${e.done} of ${e.total} solved`:`${e.done} solved`,e.failed?`${e.failed} failed`:``,e.known?`${e.known} known before`:``,e.running?`${e.running} being solved`:``,t&&e.left_s>0?`about ${Bn(e.left_s)} left`:``].filter(Boolean).join(`, `);return Y(`section`,{"aria-label":`The study`,class:`study`,children:[Y(`h3`,{children:[{sweep:`Sweep`,search:`Search`,tolerance:`How builds will differ`}[e.kind]??e.kind,e.title?`: ${e.title}`:``,` `,Y(`small`,{children:KC[e.state]})]}),e.goals.length>0&&Y(`p`,{children:[`Wanted: `,e.goals.join(` and `),`. Limits: `,e.limits.length?e.limits.join(`; `):`none`,`.`]}),t&&Y(Qn,{p:{what:e.state===`waiting`?`waits for the study before it`:e.what||`begins`,done:e.share},onCancel:()=>void yt(`POST`,`/api/stop`,{study:e.name}).catch(e=>bC.value=St(e)),what:`Progress of the study`}),(t||e.rows.length>0)&&Y(`p`,{class:`standing`,"aria-live":t?`off`:`polite`,children:[n,`.`]}),e.why&&Y(`p`,{class:`fault`,role:`alert`,children:e.why}),(e.state===`stopped`||e.state===`interrupted`)&&Y(`p`,{class:`row`,children:[e.state===`interrupted`?`The bench was ended in the midst of it.`:`Stopped.`,` What is solved is kept. `,Y(`button`,{type:`button`,class:`main`,onClick:()=>void FC(`/api/resume`,e.name),children:`Go on with it`})]}),e.found&&Y(`p`,{children:[e.rows.length,` of `,e.found.designs,` designs were solved`,e.found.buildable<e.found.designs?`; ${e.found.designs-e.found.buildable} cannot be built or bought`:``,`. `,e.rows.some(e=>e.best)?e.found.finished?`By what was learned from them, nothing better is likely.`:`There may be better ones: allow more solves.`:e.found.nearest===void 0?`None could be solved.`:`No design keeps all limits. The nearest: ${e.rows.find(t=>t.index===e.found.nearest)?.settings.map(e=>`${e.path} ${e.value}`).join(`, `)??``}.`]}),e.kind===`sweep`&&Y(QC,{s:e}),e.kind===`search`&&e.rows.length>0&&Y(ew,{s:e}),e.spread&&Y(iw,{t:e.spread}),Y(aw,{s:e})]})}function sw(){return B(()=>(MC(),yt(`GET`,`/api/stock`).then(e=>xC.value=e,()=>{}),yC.value&&PC(yC.value.name),()=>SC?.abort()),[]),B(()=>{gt.value||(MC(),yC.value&&PC(yC.value.name))},[gt.value]),Y(`main`,{class:`sheet broad`,id:`main`,tabIndex:-1,children:[Y(`h2`,{children:`Studies: many designs at once`}),bC.value&&Y(`p`,{class:`fault`,role:`alert`,children:bC.value}),Y(GC,{}),yC.value&&Y(ow,{s:yC.value}),Y(qC,{})]})}var cw=K(null),lw=K(``),uw=K(null),dw=On(),fw=On(),pw=()=>JSON.stringify([q.value,cw.value?.version]);async function mw(){try{cw.value=await yt(`GET`,`/api/stock`),lw.value=``}catch(e){lw.value=St(e)}}async function hw(e,t){try{cw.value=await yt(`PUT`,`/api/stock`,{text:e,base:cw.value?.version??``}),lw.value=``,rS.value&&Yt(0),At.value=`${t} is kept as ${cw.value.name}.`}catch(e){lw.value=St(e),e instanceof ht&&e.status===409&&(await mw(),lw.value=`Another list was put there meanwhile; this page shows it now. Keep yours once more to put it in its place.`)}}function gw({l:e}){let t=ot(null),n=V(null),r=V(null),i=async()=>{await hw(t.value,`The list`),lw.value||(t.value=null)};return Y(x,{children:[e.problems.length>0?Y(sC,{list:e.problems,what:e.name,onGo:e=>{let t=n.current,i=t.value.split(`
`),a=i.slice(0,e-1).join(`
`).length+ +(e>1);r.current.open=!0,t.focus(),t.setSelectionRange(a,a+(i[e-1]?.length??0)),t.scrollTop=t.scrollHeight/i.length*(e-4)}}):Y(`p`,{children:[Y(`strong`,{children:e.name}),` of the folder is used: `,e.count,` lines, prices in `,e.currency,`.`]}),Y(`details`,{ref:r,open:e.problems.length>0,children:[Y(`summary`,{children:[`Look through `,e.name,` and change it`]}),Y(`label`,{for:`shelf-text`,class:`visually-hidden`,children:`The list of stock`}),Y(`textarea`,{id:`shelf-text`,class:`short`,ref:n,spellcheck:!1,value:t.value??e.text,onInput:e=>t.value=e.currentTarget.value}),Y(`p`,{class:`row`,children:[Y(`button`,{type:`button`,class:`main`,disabled:t.value===null||t.value===e.text,onClick:()=>void i(),children:`Keep this list`}),Y(`button`,{type:`button`,disabled:t.value===null,onClick:()=>t.value=null,children:`Drop my changes`}),Y(`button`,{type:`button`,onClick:()=>Ix(e.name,new Blob([e.text],{type:`text/csv`})),children:`Save it elsewhere`})]})]})]})}function _w(){let e=cw.value;B(()=>void mw(),[]),B(()=>{if(!e?.version||e.problems.length||!Vt.value||uw.value?.of===pw())return;let t=pw();yt(`POST`,`/api/bill`,{...Gt(),stock:e.text}).then(e=>(uw.value={of:t,answer:e},lw.value=``),e=>lw.value=St(e))},[q.value,e?.version,Vt.value]);let t=e?.version?uw.value:null,n=e=>`${e.toLocaleString(void 0,{minimumFractionDigits:2,maximumFractionDigits:2})} ${t?.answer.currency??``}`;return Y(`section`,{children:[Y(`h3`,{children:`What to buy, from your stock and prices`}),Y(cC,{label:`Drop a list of stock here, or choose one (CSV)`,onFile:e=>e.size>4<<20?lw.value=`${e.name} is over 4 MiB long`:void e.text().then(t=>hw(t,e.name)),children:Y(`p`,{class:`row`,children:[Y(`small`,{children:[`It is kept as `,e?.name??`stock.csv`,` in the folder, in the place of the one before, for all designs there.`]}),e&&!e.version&&Y(`button`,{type:`button`,onClick:()=>void hw(e.example,`An invented list`),children:`Begin with an invented list`})]})}),lw.value&&Y(`p`,{class:`fault`,role:`alert`,children:lw.value}),e?.version&&Y(gw,{l:e}),t&&Y(`div`,{class:t.of===pw()?``:`stale`,children:[Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`caption`,{children:`To buy`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`What`}),Y(`th`,{scope:`col`,children:`Number`}),Y(`th`,{scope:`col`,children:`Price`}),Y(`th`,{scope:`col`,children:`Cost`}),Y(`th`,{scope:`col`,children:`Cuts from each bar, mm`})]})}),Y(`tbody`,{children:[t.answer.buy.map(e=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:[e.name,` `,e.reference&&Y(`small`,{children:e.reference})]}),Y(`td`,{class:`number`,children:e.number}),Y(`td`,{class:`number`,children:n(e.price)}),Y(`td`,{class:`number`,children:n(e.cost)}),Y(`td`,{children:(e.bars??[]).map(e=>`${e.cuts.map(e=>`${J(e.length_m*1e3,4)} (${e.parts.join(`, `)})`).join(` + `)}, ${J(e.offcut_m*1e3,3)} left`).join(`; `)||(e.need_kg?`${Rn(e.need_kg)} needed`:``)})]},e.name)),Y(`tr`,{children:[Y(`th`,{scope:`row`,children:`All of it`}),Y(`td`,{}),Y(`td`,{}),Y(`td`,{class:`number`,children:n(t.answer.cost)}),Y(`td`,{children:t.answer.target?`at most ${n(t.answer.target.most)} wanted: ${t.answer.target.met?`met`:`NOT met`}`:``})]})]})]})}),t.answer.missing.length>0&&Y(`div`,{class:`warning`,children:[Y(`strong`,{children:`Not in the list:`}),Y(`ul`,{children:t.answer.missing.map(e=>Y(`li`,{children:e},e))})]}),Y(`details`,{children:[Y(`summary`,{children:`Which part is made from what`}),Y(`table`,{class:`list`,children:[Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Parts`}),Y(`th`,{scope:`col`,children:`Size`}),Y(`th`,{scope:`col`,children:`Made from`}),Y(`th`,{scope:`col`,children:`Work`})]})}),Y(`tbody`,{children:t.answer.parts.map((e,t)=>Y(`tr`,{class:e.missing?`bad`:``,children:[Y(`th`,{scope:`row`,children:[e.letter,` `,e.names.join(`, `)]}),Y(`td`,{children:e.what}),Y(`td`,{children:e.stock||`–`}),Y(`td`,{children:e.missing||e.work})]},t))})]})]}),Y(`p`,{class:`row`,children:Y(`button`,{type:`button`,onClick:()=>{let e=[[`name`,`reference`,`number`,`unit_price`,`cost`,`currency`],...t.answer.buy.map(e=>[e.name,e.reference??``,e.number,e.price,e.cost,t.answer.currency])];Ix(`${Tt.value?.name.replace(/\.toml$/i,``)??`magnet`}-to-buy.csv`,new Blob([e.map(e=>e.map(e=>typeof e==`string`?`"${e.replaceAll(`"`,`""`)}"`:e).join(`,`)).join(`
`)+`
`],{type:`text/csv`}))},children:`Save what to buy as CSV`})})]})]})}function vw({caption:e,head:t,rows:n,bad:r}){return Y(`div`,{class:`wide`,children:Y(`table`,{class:`list`,children:[Y(`caption`,{children:e}),Y(`thead`,{children:Y(`tr`,{children:t.map((e,t)=>Y(`th`,{scope:`col`,children:e.replace(`>`,``)},t))})}),Y(`tbody`,{children:n.map((e,n)=>Y(`tr`,{class:r?.(e)?`bad`:``,children:e.map((e,n)=>n===0?Y(`th`,{scope:`row`,children:e},n):Y(`td`,{class:t[n].startsWith(`>`)?`number`:``,children:e},n))},n))})]})})}function yw(){let e=dw.state.value,t=e.answer;return Y(`section`,{class:!t||e.of===q.value?``:`stale`,children:[Y(`h3`,{children:`Steps of assembly`}),Y(`p`,{children:`The order of putting it together, with the pull, the energy and the screws of each step.`}),Y($n,{work:dw,disabled:!Vt.value,onStart:()=>void dw.run(`/api/assemble`,Gt()),children:t?`Work them out again`:`Work out the steps`}),t&&Y(x,{children:[t.dangerous_step>0&&Y(`p`,{class:`caution`,children:[Y(`strong`,{children:[`Step `,t.dangerous_step,` does most harm when it gets loose:`]}),` `,t.dangerous_because,`.`]}),t.costs_field_for_good.map(e=>Y(`p`,{class:`warning`,children:e},e)),Y(`ol`,{class:`steps`,children:t.steps.map(e=>Y(`li`,{children:[Y(`strong`,{children:e.title}),` `,Y(`small`,{children:[e.moves.join(`, `),e.mass_kg?`, ${Rn(e.mass_kg)}`:``]}),e.peak_force_N>0&&Y(`p`,{class:`number`,children:[`largest force `,zn(e.peak_force_N),` at `,Pn(e.peak_at_m,3),e.peak_push_N>0?`; push with up to ${zn(e.peak_push_N)}`:``,e.peak_side_force_N>1?`; aside ${zn(e.peak_side_force_N)}`:``,`; `,J(e.energy_J,3),` J if it lets go, arriving at `,J(e.impact_m_per_s,2),` m/s`,e.screws?`; ${e.screws.count} jack screws ${e.screws.size}, ${J(e.screws.torque_Nm,2)} N·m each`:``]}),e.same_as_step?Y(`p`,{children:[`As step `,e.same_as_step,`.`]}):null,Y(`ul`,{children:[...e.how,...e.hold_points.map(e=>`Hold: ${e}`)].map(e=>Y(`li`,{children:e},e))})]},e.number))}),t.order_rows.length>0&&Y(x,{children:[Y(vw,{caption:`Legs last or legs first`,head:[`order`,`>force N`,`in`,`>energy J`,`in`,`verdict`],rows:t.order_rows}),t.orders_on_magnets&&Y(`p`,{children:[`Magnets: `,t.orders_on_magnets,`.`]})]}),Y(vw,{caption:`What the magnets stand in each state, at ${J(t.temperature_degC,3)} °C`,head:[`state`,`magnet`,`>at mm`,`>lowest H kA/m`,`>knee kA/m`,`>left %`,`>kept %`],rows:t.strain_rows,bad:e=>e[5].startsWith(`-`)}),t.costs_field_for_good.length===0&&Y(`p`,{children:`No state takes a magnet past its knee as far as that is known.`}),t.chart&&Y(tw,{c:t.chart,alt:`Pull against distance for each step that pulls`}),Y(`h4`,{children:`Taking apart`}),Y(`ol`,{children:t.taking_apart.map((e,t)=>Y(`li`,{children:[Y(`strong`,{children:e.what}),e.begin_N?`: begins with ${zn(e.begin_N)}`:``,`. `,e.how]},t))}),t.storage.length>0&&Y(x,{children:[Y(`h4`,{children:`Storage`}),Y(`ul`,{children:t.storage.map(e=>Y(`li`,{children:e},e))})]}),Y(`div`,{class:`caution`,children:Y(`ul`,{children:t.cautions.map(e=>Y(`li`,{children:e},e))})}),t.notes.map(e=>Y(`p`,{children:Y(`small`,{children:e})},e)),Y(`p`,{children:Y(`small`,{children:[`By `,t.order_by,`; at `,t.accuracy,` accuracy.`]})})]})]})}function bw(e){let[t,n]=e.split(`=`);return`${t} = ${Pn(Number(n))}`}function xw(){let e=fw.state.value,t=e.answer,n=Tt.value?.name.replace(/\.toml$/i,``)??`magnet`,r=e=>e>0?Pn(e,3):`–`;return Y(`section`,{class:!t||e.of===q.value?``:`stale`,children:[Y(`h3`,{children:`Safety card`}),Y(`p`,{children:`How far the published limits reach, where loose tools slide and fly, what closes on a hand: a sheet to hang beside the magnet.`}),Y(`div`,{class:`row`,children:[Y($n,{work:fw,disabled:!Vt.value,onStart:()=>void fw.run(`/api/card`,{...Gt(),accuracy:`standard`,format:`pdf`,paper:An.value?`letter`:`A4`}),children:t?`Work it out again`:`Work out the safety card`}),t&&!e.running&&Y(`button`,{type:`button`,onClick:()=>Lx(t.sheet,`${n}-safety-card.pdf`),children:`Save the card as PDF`})]}),t&&Y(x,{children:[Y(`div`,{class:`caution`,children:Y(`ul`,{children:t.cautions.map((e,t)=>Y(`li`,{children:[Y(`strong`,{children:[e.title,`.`]}),` `,e.text]},t))})}),Y(`div`,{class:`wide`,children:[Y(`table`,{class:`list`,children:[Y(`caption`,{children:`How far from the middle of the parts limits reach`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Limit`}),Y(`th`,{scope:`col`,children:`for`}),Y(`th`,{scope:`col`,children:`along x`}),Y(`th`,{scope:`col`,children:`y`}),Y(`th`,{scope:`col`,children:`z`}),Y(`th`,{scope:`col`,children:`farthest`})]})}),Y(`tbody`,{children:t.limits.filter(e=>!e.at_m).map((e,t)=>Y(`tr`,{children:[Y(`th`,{scope:`row`,class:`number`,children:[J(e.field_T*1e3,3),` mT`]}),Y(`td`,{children:[e.what,` `,Y(`small`,{children:[e.source,e.from_memory?` (from memory)`:``]})]}),Y(`td`,{class:`number`,children:r(e.reach_m.x)}),Y(`td`,{class:`number`,children:r(e.reach_m.y)}),Y(`td`,{class:`number`,children:r(e.reach_m.z)}),Y(`td`,{class:`number`,children:r(e.reach_m.largest)})]},t))})]}),Y(`table`,{class:`list`,children:[Y(`caption`,{children:`Loose tools: from how far they move, counted from the box of the parts`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Tool`}),Y(`th`,{scope:`col`,children:`slides on a bench`}),Y(`th`,{scope:`col`,children:`is lifted`})]})}),Y(`tbody`,{children:t.tools.map(e=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:e.name}),Y(`td`,{class:`number`,children:r(e.slides_m.largest)}),Y(`td`,{class:`number`,children:r(e.lifts_m.largest)})]},e.name))})]})]}),t.pinch&&Y(`table`,{class:`list`,children:[Y(`caption`,{children:[`What closes on a hand, at `,bw(t.pinch.plane)]}),Y(`tbody`,{children:[Y(er,{what:`Largest force`,value:zn(t.pinch.largest_force_N)}),Y(er,{what:`Energy set free`,value:`${J(t.pinch.energy_J,3)} J`,note:`arriving at ${J(t.pinch.speed_m_per_s,2)} m/s if nothing holds it`}),Y(er,{what:`More than a hand stands`,value:t.pinch.hand_m>0?`closer than ${Pn(t.pinch.hand_m,2)}`:`nowhere`})]})]}),Y(`p`,{children:Y(`small`,{children:[`Lengths in `,Mn(),`. Estimates without warranty: local codes and licensed practice decide.`]})})]})]})}var Sw=On(),Cw=On(),ww=On();function Tw(){let e=Sw.state.value,t=ww.state.value,n=ot(0);B(()=>{if(!Vt.value||e.of===q.value)return;Sw.run(`/api/cut`,Gt());let t=Et.value?.wounds[0];t&&ww.run(`/api/wind`,{...Gt(),yoke:t})},[q.value,Vt.value]);let r=e.answer?.files.filter(e=>e.media===`image/svg+xml`)??[],i=r[Math.min(n.value,r.length-1)],a=Tt.value?.name.replace(/\.toml$/i,``)??`magnet`,o=async e=>{let t=await Cw.run(`/api/papers`,{...Gt(),accuracy:`standard`,format:e,paper:An.value?`letter`:`A4`});t&&Lx(t,`${a}.${e}`)};return Y(`main`,{class:`sheet`,id:`main`,tabIndex:-1,children:[Y(`h2`,{children:`Build it`}),Y(`p`,{class:`caution`,children:`Read the cautions of the answer first. Halves and magnets snap together from farther than they look; keep pacemakers and loose steel away. Local codes and licensed practice decide.`}),Y(`section`,{children:[Y(`h3`,{children:`Build papers`}),Y(`p`,{children:`Drawings, parts list, field, forces, safety card and the design file in one document, solved at standard accuracy; with what to buy where there is a list of stock (below).`}),Y(`div`,{class:`row`,children:[Y($n,{work:Cw,disabled:!Vt.value,onStart:()=>void o(`pdf`),children:`Make the PDF`}),!Cw.state.value.running&&Y(`button`,{type:`button`,disabled:!Vt.value,onClick:()=>void o(`html`),children:`Make the HTML page`})]})]}),Y(`section`,{class:e.of===q.value?``:`stale`,children:[Y(`h3`,{children:`Cut list`}),e.fault&&Y(`p`,{class:`fault`,role:`alert`,children:e.fault}),e.answer&&Y(x,{children:[Y(`table`,{class:`list`,children:[Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`No.`}),Y(`th`,{scope:`col`,children:`Pieces`}),Y(`th`,{scope:`col`,children:`Part`}),Y(`th`,{scope:`col`,children:`Size, mm`}),Y(`th`,{scope:`col`,children:`Material`}),Y(`th`,{scope:`col`,children:`Each`}),Y(`th`,{scope:`col`,children:`Drawing`})]})}),Y(`tbody`,{children:e.answer.items.map(t=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:t.letter}),Y(`td`,{class:`number`,children:t.number}),Y(`td`,{children:[t.names.join(`, `),` `,Y(`small`,{children:[t.kind,`, `,t.shape]})]}),Y(`td`,{children:t.size_mm}),Y(`td`,{children:t.material}),Y(`td`,{class:`number`,children:t.each_kg?Rn(t.each_kg):``}),Y(`td`,{class:`row`,children:e.answer.files.filter(e=>e.name.startsWith(`${t.file}.`)).map(e=>Y(`button`,{type:`button`,onClick:()=>Lx(e),"aria-label":`Save ${e.name}`,children:e.name.slice(e.name.lastIndexOf(`.`)+1).toUpperCase()},e.name))})]},t.letter))})]}),Y(`p`,{class:`row`,children:Y(`button`,{type:`button`,onClick:()=>{let t=[[`letter`,`number`,`names`,`kind`,`shape`,`size_mm`,`material`,`each_kg`],...e.answer.items.map(e=>[e.letter,e.number,e.names.join(` / `),e.kind,e.shape,e.size_mm,e.material,e.each_kg])];Ix(`${a}-cut-list.csv`,new Blob([t.map(e=>e.map(e=>typeof e==`string`?`"${e.replaceAll(`"`,`""`)}"`:e).join(`,`)).join(`
`)+`
`],{type:`text/csv`}))},children:`Save the cut list as CSV`})}),e.answer.notes.map(e=>Y(`p`,{children:[e,`.`]},e))]})]}),Y(_w,{}),t.fault&&Y(`p`,{class:`fault`,role:`alert`,children:[`Winding sheet: `,t.fault]}),t.answer&&(Et.value?.wounds.length??0)>0&&Y(`section`,{class:t.of===q.value?``:`stale`,children:[Y(`h3`,{children:[`Winding sheet: `,t.answer.name]}),Y(`p`,{children:[t.answer.turns,` turns of `,t.answer.wire,`, `,J(t.answer.wire_length_m,3),` m, `,Rn(t.answer.wire_mass_kg),`; `,J(t.answer.hours_low,2),` to `,J(t.answer.hours_high,2),` hours by hand, pulled with `,J(t.answer.tension_low_N,2),` to `,J(t.answer.tension_high_N,2),` N.`,` `,t.answer.spools.count,` spools with the spare.`]}),Y(`table`,{class:`list`,children:[Y(`caption`,{children:`Layer by layer`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`Layer`}),Y(`th`,{scope:`col`,children:`Turns`}),Y(`th`,{scope:`col`,children:`so far`}),Y(`th`,{scope:`col`,children:`Wire`}),Y(`th`,{scope:`col`,children:`so far`}),Y(`th`,{scope:`col`,children:`Outside`})]})}),Y(`tbody`,{children:t.answer.layers.map(e=>Y(`tr`,{children:[Y(`th`,{scope:`row`,children:e.layer}),Y(`td`,{class:`number`,children:e.turns}),Y(`td`,{class:`number`,children:e.running_turns}),Y(`td`,{class:`number`,children:[J(e.length_m,3),` m`]}),Y(`td`,{class:`number`,children:[J(e.running_length_m,4),` m`]}),Y(`td`,{class:`number`,children:Pn(e.outer_m)})]},e.layer))})]}),Y(`ul`,{children:[...t.answer.notes,...t.answer.non_magnetic].map(e=>Y(`li`,{children:e},e))})]}),i&&Y(`section`,{class:e.of===q.value?``:`stale`,children:[Y(`h3`,{children:`Drawings`}),Y(`p`,{class:`row`,children:[Y(`label`,{children:[`Sheet `,Y(`select`,{value:String(r.indexOf(i)),onChange:e=>n.value=+e.currentTarget.value,children:r.map((e,t)=>Y(`option`,{value:String(t),children:e.name.replace(/\.svg$/,``)},e.name))})]}),Y(`button`,{type:`button`,onClick:()=>Lx(i),children:`SVG`}),e.answer.files.filter(e=>e.name===i.name.replace(/\.svg$/,`.dxf`)).map(e=>Y(`button`,{type:`button`,onClick:()=>Lx(e),children:`DXF`},e.name))]}),Y(`img`,{class:`drawing`,src:`data:image/svg+xml;base64,${i.base64}`,alt:`Drawing ${i.name.replace(/\.svg$/,``)}, to scale with its sizes`})]}),Y(yw,{}),Y(xw,{})]})}var Ew=K(``),Dw=K(``),Ow=K(``),kw=On(),Aw=On(),jw=On(),Mw=On(),Nw=K([``,``]),Pw=K(.1);async function Fw(){try{Ow.value=(await yt(`GET`,`/api/files/${encodeURIComponent(Ew.value)}`)).text,Dw.value=``}catch(e){Dw.value=St(e);return}Nw.value=[Tt.value.name,Ew.value];let e={accuracy:`standard`},t=Gt(),n={file:Ew.value,text:Ow.value},r=Et.value?.box;Pw.value=r?Math.max(...[0,1,2].map(e=>r.max_m[e]-r.min_m[e])):.1;let i=await kw.run(`/api/solve`,{...t,...e}),a=i&&await Aw.run(`/api/solve`,{...n,...e});if(!i||!a)return;let o=e=>({from_m:[e.gap_at_m[0],e.gap_at_m[1],e.gap_at_m[2]-Pw.value],to_m:[e.gap_at_m[0],e.gap_at_m[1],e.gap_at_m[2]+Pw.value],points:161});await jw.run(`/api/line`,{...t,...e,...o(i)}),await Mw.run(`/api/line`,{...n,...e,...o(a)})}var Iw=e=>Math.abs(e)<.005?`the same`:`${e>0?`+`:`−`}${J(Math.abs(e),e<1&&e>-1?2:3)} %`;function Lw(){let e=kw.state.value.answer,t=Aw.state.value.answer,n=kw.state.value.running?kw:Aw.state.value.running?Aw:jw.state.value.running?jw:Mw,r=st(()=>[jw.state.value.answer,Mw.state.value.answer].flatMap((e,t)=>e?[{name:Nw.value[t],x:e.s_m.map(e=>+((e-Pw.value)*Nn()).toPrecision(6)),y:e.b_T.map(e=>Math.hypot(e[0],e[1],e[2]))}]:[])),i=e=>Math.hypot(...e),a=e=>Math.max(...e.parts.filter(e=>e.saturation).map(e=>e.saturation)),o=(e,t)=>e.stray.find(e=>Math.abs(e.limit_T-t)<1e-9)?.largest_m??0,s=e=>Math.min(...e.parts.flatMap(e=>e.working_point?.knee_margin?[e.working_point.knee_margin]:[])),c=[[`Field in the gap`,e=>i(e.gap_b_T),e=>In(e,5)],[`Spread over the region`,e=>e.region?.peak_to_peak_ppm??NaN,Ln],[`Mass`,e=>e.mass_kg,Rn],[`0.5 mT reaches`,e=>o(e,5e-4),e=>Pn(e)],[`3 mT reaches`,e=>o(e,.003),e=>Pn(e)],[`Fullest steel, mean of saturation`,e=>100*a(e),e=>`${J(e,3)} %`],[`Least margin to the knee`,e=>100*s(e),e=>`${J(e,3)} %`],[`Largest force on a part`,e=>Math.max(...e.parts.map(e=>i(e.force_N))),e=>`${J(e,3)} N`]],l=wt.value?.files.filter(e=>e.name!==Tt.value?.name)??[];return Y(`main`,{class:`sheet`,id:`main`,tabIndex:-1,children:[Y(`h2`,{children:`Two designs side by side`}),l.length===0?Y(`p`,{children:`There is no second design file in the folder.`}):Y(`p`,{class:`row`,children:[Y(`label`,{children:[Tt.value?.name,` beside `,Y(`select`,{value:Ew.value,onChange:e=>Ew.value=e.currentTarget.value,children:[Y(`option`,{value:``,children:`choose a file`}),l.map(e=>Y(`option`,{children:e.name},e.name))]})]}),Y($n,{work:n,disabled:!Ew.value||!Ht.value,onStart:()=>void Fw(),children:`Solve both`})]}),Dw.value&&Y(`p`,{class:`fault`,role:`alert`,children:Dw.value}),[kw,Aw,jw].map((e,t)=>e.state.value.fault&&Y(`p`,{class:`fault`,role:`alert`,children:[Nw.value[t%2],`: `,e.state.value.fault]},t)),e&&t&&Y(`div`,{class:kw.state.value.of===q.value?``:`stale`,children:[Y(`table`,{class:`list`,children:[Y(`caption`,{children:`At standard accuracy`}),Y(`thead`,{children:Y(`tr`,{children:[Y(`th`,{scope:`col`,children:`What`}),Y(`th`,{scope:`col`,children:Nw.value[0]}),Y(`th`,{scope:`col`,children:Nw.value[1]}),Y(`th`,{scope:`col`,children:`Second against first`})]})}),Y(`tbody`,{children:c.map(([n,r,i])=>{let a=r(e),o=r(t);return Y(`tr`,{children:[Y(`th`,{scope:`row`,children:n}),Y(`td`,{class:`number`,children:Number.isFinite(a)?i(a):`–`}),Y(`td`,{class:`number`,children:Number.isFinite(o)?i(o):`–`}),Y(`td`,{class:`number`,children:a&&Number.isFinite(a)&&Number.isFinite(o)?Iw(100*(o/a-1)):``})]},n)})})]}),r.value.length===2&&Y(zx,{title:`Field along z through each gap`,xName:`z from the middle of the gap, ${Mn()}`,yName:`B, T`,curves:r.value})]})]})}var Rw={"facing-pair":`Two magnets face each other, no steel: light, weak, wide open.`,"framed-pair":`Two magnets in a closed frame of steel bars: strong, stiff, shielded.`,"c-frame":`Two magnets and a frame open on one side, to reach in.`,"round-pot":`Two discs in a closed round pot: strongest shielding.`,"pole-tips":`Discs with tapered steel tips: the field concentrated and evened.`,"wound-pair":`Two magnets in a yoke wound from iron wire: no heavy machining.`,"single-block":`One magnet on a plate, the field above its face.`,"halbach-wedges":`A ring of wedges turned step by step: strong field in a bore, no steel.`,"halbach-blocks":`The same ring, of plain blocks.`},zw=`# A polewright design file: what is wanted. The page's "Find designs" adds the parts.
format = 1
title  = "My magnet"

[target]
field       = "0.5 T"                                   # mean over the region
uniformity  = "1 %"                                     # highest less lowest over the region, of the mean
region      = { shape = "sphere", diameter = "8 mm" }
gap         = "20 mm"                                   # free height along z
stray       = { limit = "0.5 mT", distance = "500 mm" }
temperature = { working = "22 degC", max = "40 degC" }
`;function Bw(e){let t=new Set(wt.value?.files.map(e=>e.name.toLowerCase()));for(let n=1;;n++){let r=`${e}${n>1?`-${n}`:``}.toml`;if(!t.has(r))return r}}function Vw(){let e=ot(``),t=ot(!1),n=async(t,n)=>{try{await t(),Dt.value=n,e.value=``}catch(t){e.value=St(t)}};return Y(`main`,{class:`begin`,id:`main`,children:[Y(`h1`,{children:`Begin a magnet, or go on with one`}),e.value&&Y(`p`,{class:`fault`,role:`alert`,children:e.value}),Y(`section`,{"aria-labelledby":`begin-need`,children:[Y(`h2`,{id:`begin-need`,children:`From what you need`}),Y(`p`,{children:`Say field, gap and evenness; the bench looks for layouts, grades and sizes.`}),Y(`button`,{type:`button`,class:`main`,onClick:()=>n(()=>Cn(Bw(`my-magnet`),zw),`need`),children:`Begin with a target`})]}),Y(`section`,{"aria-labelledby":`begin-layout`,children:[Y(`h2`,{id:`begin-layout`,children:`From a layout`}),Y(`p`,{children:Y(`label`,{class:`check`,children:[Y(`input`,{type:`checkbox`,checked:t.value,onChange:e=>t.value=e.currentTarget.checked}),` every part written out, to change one by one`]})}),Y(`ul`,{class:`cards`,children:Ct.value?.layouts.map(e=>Y(`li`,{children:Y(`button`,{type:`button`,onClick:()=>n(()=>Cn(Bw(`my-${e.kind}`),t.value?e.written:e.short),`magnet`),children:[Y(`strong`,{children:e.kind}),Y(`span`,{children:Rw[e.kind]??``})]})},e.kind))})]}),Y(`section`,{"aria-labelledby":`begin-file`,children:[Y(`h2`,{id:`begin-file`,children:`A file of the folder`}),Y(`p`,{class:`path`,children:wt.value?.folder}),wt.value?.files.length===0&&Y(`p`,{children:`There is no design file yet.`}),Y(`ul`,{class:`files`,children:wt.value?.files.map(e=>Y(`li`,{children:[Y(`button`,{type:`button`,onClick:()=>n(()=>Sn(e.name),`answer`),children:e.name}),Y(`span`,{children:new Date(e.modified).toLocaleString()})]},e.name))})]}),Y(`p`,{class:`caution`,children:`Strong magnets crush fingers, shatter, pull tools and stop pacemakers. What the bench says helps you to plan; local codes and licensed practice decide.`})]})}var Hw=[[`need`,`Need`],[`magnet`,`Magnet`],[`yoke`,`Yoke`],[`answer`,`Answer`],[`build`,`Build`],[`measure`,`Measure`]];function Uw(){let e=Tt.value,t={saved:`saved`,unsaved:`not saved yet`,saving:`saving`,failed:`NOT saved`}[jt.value];return Y(`header`,{children:[Y(`a`,{class:`skip`,href:`#main`,children:`Skip to the work`}),Y(`span`,{class:`brand`,children:`polewright bench`}),e&&Y(x,{children:[Y(`nav`,{"aria-label":`Order of work`,children:[Y(`ol`,{children:Hw.map(([e,t],n)=>Y(`li`,{children:Y(`button`,{type:`button`,"aria-current":Dt.value===e?`step`:void 0,onClick:()=>Dt.value=e,children:[Y(`span`,{"aria-hidden":`true`,children:n+1}),` `,t]})},e))}),Y(`button`,{type:`button`,"aria-current":Dt.value===`studies`?`page`:void 0,onClick:()=>Dt.value=`studies`,children:`Studies`}),Y(`button`,{type:`button`,"aria-current":Dt.value===`compare`?`page`:void 0,onClick:()=>(bn(),Dt.value=`compare`),children:`Compare`})]}),Y(`span`,{class:`spring`}),Y(`span`,{class:`saved ${jt.value}`,title:[e.name,Mt.value].filter(Boolean).join(`: `),children:[Y(`span`,{class:`name`,children:e.name}),` `,Y(`small`,{role:`status`,children:t})]}),Y(`button`,{type:`button`,disabled:!It.value,onClick:()=>void dn(),"aria-keyshortcuts":`Control+Z`,children:`Undo`}),Y(`button`,{type:`button`,disabled:!Lt.value,onClick:()=>void fn(),"aria-keyshortcuts":`Control+Shift+Z`,children:`Redo`}),Y(`button`,{type:`button`,onClick:()=>void wn(),children:`Close`})]}),!e&&Y(`span`,{class:`spring`}),Y(`label`,{class:`check`,children:[Y(`span`,{class:`visually-hidden`,children:`Lengths`}),` `,Y(`select`,{title:`Lengths`,value:An.value?`in`:`mm`,onChange:e=>jn(e.currentTarget.value===`in`),children:[Y(`option`,{value:`mm`,children:`mm`}),Y(`option`,{value:`in`,children:`inch`})]})]})]})}function Ww({name:e,value:t,stale:n,note:r}){return Y(`div`,{class:`figure ${n?`stale`:``}`,children:[Y(`dt`,{children:e}),Y(`dd`,{children:[t,r&&Y(`small`,{children:[` `,r]}),n&&Y(`span`,{class:`visually-hidden`,children:` of an earlier design`})]})]})}function Gw(){let e=Et.value,t=zt.value,n=Bt.value,r=e=>e.result?In(Math.hypot(...e.result.gap_b_T),4):`–`,i=n.result&&(n.of===q.value||!t.result||t.of!==q.value)?n:t,a=i.result,o=n.result?.target??[],s=[t,n].find(e=>e.running),c=ot(!1);return B(()=>{if(c.value=!1,!s)return;let e=setTimeout(()=>c.value=!0,1e3);return()=>clearTimeout(e)},[!!s,s===n]),Y(`section`,{class:`live`,"aria-label":`The answer so far`,children:[Y(`dl`,{children:[Y(Ww,{name:`Circuit`,value:e?.circuit?In(e.circuit.gap_b_T,3):`–`,stale:!Vt.value,note:e?.no_circuit&&Vt.value?`knows pairs and their yokes only`:``}),Y(Ww,{name:`Draft`,value:r(t),stale:t.of!==q.value,note:t.result?`±${J(t.result.solver.estimated_error_percent,1)} %`:``}),Y(Ww,{name:`Solved`,value:r(n),stale:n.of!==q.value,note:n.result?`±${J(n.result.solver.estimated_error_percent,1)} %`:``}),a?.region&&Y(Ww,{name:`Spread`,value:Ln(a.region.peak_to_peak_ppm),stale:i.of!==q.value}),e&&e.mass_kg>0&&Y(Ww,{name:`Mass`,value:Rn(e.mass_kg),stale:!Vt.value}),(o.length>0||iS(n.result))&&Y(Ww,{name:`Needs`,value:o.every(e=>e.met)?iS(n.result)?`cost not known`:`all met`:`${o.filter(e=>!e.met).length} of ${o.length} NOT met`,stale:n.of!==q.value})]}),s&&c.value&&Y(Qn,{p:s.running,what:s===t?`Draft`:`Whole answer`,onCancel:Xt}),!s&&Vt.value&&n.of!==q.value&&!t.fault&&!n.fault&&Y(`button`,{type:`button`,onClick:()=>Yt(0),children:`Solve`}),(t.fault||n.fault)&&Y(`p`,{class:`fault`,role:`alert`,children:t.fault||n.fault})]})}function Kw(){let e=V(null),t=ot(``),n=Nt.value;return B(()=>{n?(t.value=(Tt.value?.name??`magnet.toml`).replace(/\.toml$/i,`-mine.toml`),e.current?.showModal()):e.current?.close()},[n]),Y(`dialog`,{ref:e,"aria-labelledby":`conflict-head`,onCancel:e=>e.preventDefault(),children:[Y(`h2`,{id:`conflict-head`,children:[Tt.value?.name,` was changed elsewhere`]}),Y(`p`,{children:`Another page or an editor has written it since this page has read it. Nothing is lost: choose.`}),n&&Y(`div`,{class:`both`,children:[Y(`section`,{children:[Y(`h3`,{children:`This page's`}),Y(`pre`,{tabIndex:0,children:qw(q.value,n.text)})]}),Y(`section`,{children:[Y(`h3`,{children:`The folder's`}),Y(`pre`,{tabIndex:0,children:qw(n.text,q.value)})]})]}),Y(`p`,{class:`row`,children:[Y(`button`,{type:`button`,onClick:()=>void yn(`theirs`),children:`Take the folder's (undo brings mine back)`}),Y(`button`,{type:`button`,onClick:()=>void yn(`mine`),children:`Write mine over it`})]}),Y(`p`,{class:`row`,children:[Y(`label`,{children:[`or keep mine as `,Y(`input`,{type:`text`,value:t.value,onInput:e=>t.value=e.currentTarget.value})]}),Y(`button`,{type:`button`,onClick:()=>void yn(t.value),children:`Save under this name`})]})]})}function qw(e,t){let n=new Set(t.split(`
`)),r=e.split(`
`).flatMap((e,t)=>n.has(e)?[]:[`${t+1}: ${e}`]);return r.length?r.slice(0,40).join(`
`):`(no line of its own)`}function Jw(){let e=Dt.value,t=ot(!1);return e===`build`?Y(Tw,{}):e===`measure`?Y(_C,{}):e===`studies`?Y(sw,{}):e===`compare`?Y(Lw,{}):Y(`div`,{class:`work`,children:[Y(`main`,{class:`panel`,id:`main`,tabIndex:-1,children:[Y(zS,{}),e===`need`&&Y(DS,{}),e===`magnet`&&Y(IS,{}),e===`yoke`&&Y(LS,{}),e===`answer`&&Y(aS,{}),Y(`details`,{onToggle:e=>t.value=e.currentTarget.open,children:[Y(`summary`,{children:`The design file`}),t.value&&Y(RS,{})]})]}),Y(`div`,{class:`side`,children:[Y(Sg,{}),e===`answer`&&Y(sS,{})]})]})}function Yw(){return B(()=>{let e=e=>{let t=e.target instanceof HTMLTextAreaElement;if(!(e.ctrlKey||e.metaKey)||t||!Tt.value)return;let n=e.key.toLowerCase();if(n===`z`&&!e.shiftKey)dn();else if(n===`y`||n===`z`&&e.shiftKey)fn();else if(n===`s`)_n();else return;e.preventDefault()},t=()=>document.visibilityState===`visible`&&void Tn();addEventListener(`keydown`,e),addEventListener(`focus`,t),document.addEventListener(`visibilitychange`,t);let n=e=>{jt.value!==`saved`&&e.preventDefault()};return addEventListener(`beforeunload`,n),()=>{removeEventListener(`keydown`,e),removeEventListener(`focus`,t),document.removeEventListener(`visibilitychange`,t),removeEventListener(`beforeunload`,n)}},[]),Y(x,{children:[Y(Uw,{}),gt.value&&Y(`p`,{class:`banner`,role:`alert`,children:[`The bench's server does not answer. What you have stays in this page; start `,Y(`code`,{children:`polewright serve`}),` again and it goes on.`]}),Mt.value&&!gt.value&&!Nt.value&&Y(`p`,{class:`banner`,role:`alert`,children:[Mt.value,` `,Y(`button`,{type:`button`,onClick:()=>void _n(),children:`Try again`})]}),Y(`p`,{class:`notice`,role:`status`,children:At.value}),Tt.value?Y(x,{children:[Y(Gw,{}),Y(Jw,{})]}):Y(Vw,{}),Y(Kw,{})]})}Ye(()=>{document.title=Tt.value?`${jt.value===`saved`?``:`• `}${Tt.value.name} – polewright bench`:`polewright bench`});var Xw;Ye(()=>{At.value&&(clearTimeout(Xw),Xw=setTimeout(()=>At.value=``,6e3))});async function Zw(){let e=document.getElementById(`bench`);try{[Ct.value]=await Promise.all([yt(`GET`,`/api/catalogue`),bn()])}catch(t){L(Y(`main`,{class:`begin`,children:[Y(`h1`,{children:`The bench cannot begin`}),Y(`p`,{role:`alert`,children:St(t)})]}),e);return}L(Y(Yw,{}),e);let t=decodeURIComponent(location.hash.slice(1));t.toLowerCase().endsWith(`.toml`)&&(Dt.value=`answer`,await Sn(t).catch(e=>At.value=St(e)))}Zw();