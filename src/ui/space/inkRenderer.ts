/**
 * Ink on paper by WebGL: every line is a strip of the screen as wide as its pen, soft at its edges. Bodies are drawn into the
 * depth alone and hide what is behind them; so does a rim about every line of the field, but only lines: a gap tells which of
 * two goes behind the other.
 * Nothing runs by itself: it draws when it is told to.
 */
import { solidTriangles } from '../../plot/space/solids.ts';
import type { Pen, Stroke } from '../../plot/space/strokes.ts';
import type { SpaceView } from '../../plot/space/view.ts';
import type { Solid } from '../../shape/solid.ts';

/** Red, green and blue, 0 to 1. */
export type Ink = readonly [number, number, number];

/** What the drawing is made with; px are those of the page. */
export interface Inks {
  readonly paper: Ink;
  readonly pens: Readonly<Record<Pen, { readonly ink: Ink; readonly width: number }>>;
}

const PENS = ['flux', 'outline', 'string', 'thin', 'chain'] as const satisfies readonly Pen[];
/** Numbers of a piece of line: its ends, its pen, and its thickness in m (0: the pen's own). */
const PIECE = 8;
/** Of the clear rim about lines, px. */
const RIM = 1.6;
/** What lies behind a line by less than this is not left out, and a body hides what is in it deeper than this, m. */
const RIM_DEPTH = 4e-3;
const SKIN = 2.5e-4;

const LINES = `#version 300 es
precision highp float;
in vec3 a;
in vec3 b;
in vec2 kind;
uniform mat3 turn;
uniform vec3 centre;
uniform vec2 size;
uniform float scale;
uniform float reach;
uniform float rim;
uniform float back;
uniform float widths[5];
uniform vec3 inks[5];
uniform vec3 paper;
out vec2 at;
flat out vec2 from;
flat out vec2 to;
flat out float half_;
out vec3 ink;
void main() {
  vec2 corner = vec2((gl_VertexID & 1) == 0 ? -1.0 : 1.0, (gl_VertexID & 2) == 0 ? -1.0 : 1.0);
  vec3 p = turn * (a - centre);
  vec3 q = turn * (b - centre);
  int pen = int(kind.x + 0.5);
  float width = max(widths[pen], kind.y * scale);
  half_ = 0.5 * width + rim;
  from = p.xy * scale;
  to = q.xy * scale;
  vec2 way = to - from;
  float length_ = length(way);
  way = length_ > 1e-4 ? way / length_ : vec2(1.0, 0.0);
  float soft = half_ + (rim > 0.0 ? 0.0 : 0.5);
  // A rim ends with its line; ink is round there.
  float over = rim > 0.0 ? 0.0 : soft;
  vec3 end = corner.x < 0.0 ? p : q;
  at = end.xy * scale + corner.x * over * way + corner.y * soft * vec2(-way.y, way.x);
  float depth = (end.z - back) / reach;
  gl_Position = vec4(2.0 * at / size, -depth, 1.0);
  // Farther lines of the field are paler.
  float pale = pen == 0 ? clamp(0.32 - 0.42 * end.z / reach, 0.0, 0.62) : 0.0;
  ink = mix(inks[pen], paper, pale);
}`;

const INK = `#version 300 es
precision highp float;
in vec2 at;
flat in vec2 from;
flat in vec2 to;
flat in float half_;
in vec3 ink;
uniform float rim;
out vec4 colour;
void main() {
  vec2 way = to - from;
  float t = clamp(dot(at - from, way) / max(dot(way, way), 1e-8), 0.0, 1.0);
  float away = distance(at, from + t * way);
  float cover = clamp(half_ + 0.5 - away, 0.0, 1.0);
  if (rim > 0.0 ? cover < 0.5 : cover < 0.01) discard;
  colour = vec4(ink * cover, cover);
}`;

const BODIES = `#version 300 es
precision highp float;
in vec3 a;
uniform mat3 turn;
uniform vec3 centre;
uniform vec2 size;
uniform float scale;
uniform float reach;
uniform float back;
void main() {
  vec3 p = turn * (a - centre);
  gl_Position = vec4(2.0 * scale * p.xy / size, -(p.z - back) / reach, 1.0);
}`;

const NOTHING = `#version 300 es
precision highp float;
out vec4 colour;
void main() {
  colour = vec4(0.0);
}`;

const isField = ({ pen }: Stroke): boolean => pen === 'flux' || pen === 'string';
const isPart = (stroke: Stroke): boolean => !isField(stroke);

/** Pieces of lines on the graphics side: four corners each, told apart by their number. */
class Strips {
  readonly #gl: WebGL2RenderingContext;
  readonly #array: WebGLVertexArrayObject;
  readonly #corners: WebGLBuffer;
  readonly #order: WebGLBuffer;
  /** For how many pieces the order of their corners is known. */
  #room = 0;
  #count = 0;

  constructor(gl: WebGL2RenderingContext, lines: WebGLProgram) {
    this.#gl = gl;
    this.#corners = gl.createBuffer();
    this.#order = gl.createBuffer();
    this.#array = gl.createVertexArray();
    gl.bindVertexArray(this.#array);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#corners);
    attribute(gl, lines, 'a', 3, 4 * PIECE, 0);
    attribute(gl, lines, 'b', 3, 4 * PIECE, 12);
    attribute(gl, lines, 'kind', 2, 4 * PIECE, 24);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, this.#order);
    gl.bindVertexArray(null);
  }

  lay(strokes: readonly Stroke[], use: number): void {
    const gl = this.#gl;
    const corners = cornersOf(strokes);
    this.#count = corners.length / (4 * PIECE);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#corners);
    gl.bufferData(gl.ARRAY_BUFFER, corners, use);
    if (this.#count <= this.#room) return;
    this.#room = 2 * this.#count;
    const order = Uint32Array.from(
      { length: 6 * this.#room },
      (_, k) => 4 * Math.floor(k / 6) + [0, 1, 2, 2, 1, 3][k % 6]!,
    );
    gl.bindVertexArray(this.#array);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, order, gl.STATIC_DRAW);
    gl.bindVertexArray(null);
  }

  draw(): void {
    const gl = this.#gl;
    gl.bindVertexArray(this.#array);
    gl.drawElements(gl.TRIANGLES, 6 * this.#count, gl.UNSIGNED_INT, 0);
    gl.bindVertexArray(null);
  }
}

/** Draws on one canvas. Make it by `inkRenderer`. */
export class InkRenderer {
  readonly #gl: WebGL2RenderingContext;
  readonly #lines: WebGLProgram;
  readonly #bodies: WebGLProgram;
  /** Those that stay, and those that are there from one side only. */
  readonly #parts: readonly [Strips, Strips];
  readonly #field: readonly [Strips, Strips];
  readonly #bodyArray: WebGLVertexArrayObject;
  readonly #triangles: WebGLBuffer;
  #corners = 0;

  constructor(gl: WebGL2RenderingContext) {
    this.#gl = gl;
    this.#lines = program(gl, LINES, INK);
    this.#bodies = program(gl, BODIES, NOTHING);
    this.#triangles = gl.createBuffer();
    this.#parts = [new Strips(gl, this.#lines), new Strips(gl, this.#lines)];
    this.#field = [new Strips(gl, this.#lines), new Strips(gl, this.#lines)];
    this.#bodyArray = gl.createVertexArray();
    gl.bindVertexArray(this.#bodyArray);
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#triangles);
    attribute(gl, this.#bodies, 'a', 3, 12, 0);
    gl.enable(gl.DEPTH_TEST);
    gl.depthFunc(gl.LEQUAL);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
  }

  /** What stays the same from wherever one looks. */
  lay(strokes: readonly Stroke[], solids: readonly Solid[]): void {
    const gl = this.#gl;
    this.#parts[0].lay(strokes.filter(isPart), gl.STATIC_DRAW);
    this.#field[0].lay(strokes.filter(isField), gl.STATIC_DRAW);
    const triangles = Float32Array.from(solids.flatMap(solidTriangles));
    this.#corners = triangles.length / 3;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#triangles);
    gl.bufferData(gl.ARRAY_BUFFER, triangles, gl.STATIC_DRAW);
  }

  /**
   * @param moving strokes that are there from this side only
   * @param reach how far before and behind the centre anything lies, m
   * @param size of the canvas on the page, px; `fine`: pixels of the screen to one of them
   */
  draw(
    view: SpaceView,
    moving: readonly Stroke[],
    inks: Inks,
    reach: number,
    size: { readonly width: number; readonly height: number; readonly fine: number },
  ): void {
    const gl = this.#gl;
    const { width, height, fine } = size;
    const canvas = gl.canvas as HTMLCanvasElement;
    const [w, h] = [Math.round(width * fine), Math.round(height * fine)];
    if (canvas.width !== w || canvas.height !== h) {
      canvas.width = w;
      canvas.height = h;
    }
    gl.viewport(0, 0, w, h);
    gl.clearColor(0, 0, 0, 0);
    gl.depthMask(true);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);

    gl.colorMask(false, false, false, false);
    gl.disable(gl.BLEND);
    gl.useProgram(this.#bodies);
    gl.bindVertexArray(this.#bodyArray);
    this.#look(this.#bodies, view, reach, size);
    gl.uniform1f(place(gl, this.#bodies, 'back'), SKIN);
    gl.drawArrays(gl.TRIANGLES, 0, this.#corners);

    gl.useProgram(this.#lines);
    this.#look(this.#lines, view, reach, size);
    const at = (name: string): WebGLUniformLocation | null => place(gl, this.#lines, name);
    gl.uniform1fv(
      at('widths'),
      PENS.map((pen) => inks.pens[pen].width),
    );
    gl.uniform3fv(
      at('inks'),
      PENS.flatMap((pen) => [...inks.pens[pen].ink]),
    );
    gl.uniform3fv(at('paper'), inks.paper);
    const ink = (strips: readonly Strips[]): void => {
      gl.colorMask(true, true, true, true);
      gl.depthMask(false);
      gl.enable(gl.BLEND);
      gl.uniform1f(at('rim'), 0);
      gl.uniform1f(at('back'), 0);
      for (const strip of strips) strip.draw();
    };
    this.#parts[1].lay(moving.filter(isPart), gl.DYNAMIC_DRAW);
    this.#field[1].lay(moving.filter(isField), gl.DYNAMIC_DRAW);
    ink(this.#parts);
    gl.colorMask(false, false, false, false);
    gl.depthMask(true);
    gl.disable(gl.BLEND);
    gl.uniform1f(at('rim'), RIM);
    gl.uniform1f(at('back'), RIM_DEPTH);
    for (const strip of this.#field) strip.draw();
    ink(this.#field);
  }

  /** Gives back what the browser holds for it. */
  end(): void {
    this.#gl.getExtension('WEBGL_lose_context')?.loseContext();
  }

  #look(
    of: WebGLProgram,
    { right, up, toward, centre, scale }: SpaceView,
    reach: number,
    { width, height }: { readonly width: number; readonly height: number },
  ): void {
    const gl = this.#gl;
    // Columns: where the thing's axes lie on the screen.
    const turn = [0, 1, 2].flatMap((axis) => [right[axis]!, up[axis]!, toward[axis]!]);
    gl.uniformMatrix3fv(place(gl, of, 'turn'), false, turn);
    gl.uniform3fv(place(gl, of, 'centre'), centre);
    gl.uniform2f(place(gl, of, 'size'), width, height);
    gl.uniform1f(place(gl, of, 'scale'), scale);
    gl.uniform1f(place(gl, of, 'reach'), reach);
  }
}

/** null where the browser has no WebGL, or refuses it. */
export function inkRenderer(canvas: HTMLCanvasElement): InkRenderer | null {
  const gl = canvas.getContext('webgl2', { alpha: true, antialias: false, depth: true, stencil: false });
  if (!gl) return null;
  try {
    return new InkRenderer(gl);
  } catch {
    return null;
  }
}

function cornersOf(strokes: readonly Stroke[]): Float32Array<ArrayBuffer> {
  const count = strokes.reduce((sum, { points }) => sum + Math.max(0, points.length / 3 - 1), 0);
  const corners = new Float32Array(4 * PIECE * count);
  let at = 0;
  for (const { pen, points, thick = 0 } of strokes) {
    const kind = PENS.indexOf(pen);
    for (let k = 3; k < points.length; k += 3) {
      for (let corner = 0; corner < 4; corner++) {
        for (let i = 0; i < 6; i++) corners[at++] = points[k - 3 + i]!;
        corners[at++] = kind;
        corners[at++] = thick;
      }
    }
  }
  return corners;
}

const place = (gl: WebGL2RenderingContext, of: WebGLProgram, name: string): WebGLUniformLocation | null =>
  gl.getUniformLocation(of, name);

function attribute(
  gl: WebGL2RenderingContext,
  of: WebGLProgram,
  name: string,
  size: number,
  stride: number,
  offset: number,
): void {
  const at = gl.getAttribLocation(of, name);
  gl.enableVertexAttribArray(at);
  gl.vertexAttribPointer(at, size, gl.FLOAT, false, stride, offset);
}

function program(gl: WebGL2RenderingContext, vertex: string, fragment: string): WebGLProgram {
  const made = gl.createProgram();
  for (const [kind, text] of [
    [gl.VERTEX_SHADER, vertex],
    [gl.FRAGMENT_SHADER, fragment],
  ] as const) {
    const shader = gl.createShader(kind);
    if (!shader) throw new Error('A shader must be had; got none.');
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    gl.attachShader(made, shader);
  }
  gl.linkProgram(made);
  if (!gl.getProgramParameter(made, gl.LINK_STATUS))
    throw new Error(gl.getProgramInfoLog(made) ?? 'A program must link.');
  return made;
}
