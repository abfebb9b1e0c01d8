"""The one shader of our own: lit boxes, inked with stripes or cross-hatching.

Made at the first draw, because there is no graphics card in background mode.
"""

import functools

import gpu

from . import palette

_VERTEX = """
void main()
{
  vec3 away = eye.w > 0.5 ? normalize(pos - eye.xyz) : eye.xyz;
  float reach = eye.w > 0.5 ? distance(pos, eye.xyz) : 1.0 / max(zoom, 1e-6);
  vec3 nearer = pos - away * reach * 0.0012;
  gl_Position = view * vec4(nearer, 1.0);
  float facing = abs(dot(normal, away));
  float sky = 0.5 + 0.5 * normal.z;
  shade = 0.62 + 0.22 * sky + 0.16 * facing;
  tint = colour;
  ink = pattern;
  place = along;
}
"""

_FRAGMENT = """
float stripes(float at, float share)
{
  float phase = fract(at / period);
  float soft = clamp(fwidth(at) / period, 1e-4, 0.5);
  return 1.0 - smoothstep(share - soft, share + soft, phase)
         + smoothstep(1.0 - soft, 1.0, phase);
}

void main()
{
  float inked = 0.0;
  if (ink > 3.5) {
    vec2 cell = fract(place / (0.5 * period)) - 0.5;
    float soft = clamp(fwidth(place.x) / (0.5 * period), 1e-4, 0.5);
    inked = 1.0 - smoothstep(0.24 - soft, 0.24 + soft, length(cell));
  }
  else if (ink > 2.5) {
    inked = stripes(place.y, 0.4);
  }
  else if (ink > 1.5) {
    inked = max(stripes(place.x, 0.3), stripes(place.y, 0.3));
  }
  else if (ink > 0.0) {
    inked = stripes(place.x, ink);
  }
  vec3 dark = vec3(dark_r, dark_g, dark_b);
  vec3 rgb = mix(tint.rgb * shade, dark, clamp(inked, 0.0, 1.0));
  fragColor = vec4(rgb, tint.a);
}
"""


@functools.lru_cache(maxsize=1)
def surface() -> gpu.types.GPUShader:
    """Return the shader of shaded members."""
    between = gpu.types.GPUStageInterfaceInfo("loadfall_surface")
    between.smooth("VEC4", "tint")
    between.smooth("FLOAT", "shade")
    between.smooth("FLOAT", "ink")
    between.smooth("VEC2", "place")
    info = gpu.types.GPUShaderCreateInfo()
    info.push_constant("MAT4", "view")
    info.push_constant("VEC4", "eye")
    info.push_constant("FLOAT", "zoom")
    info.vertex_in(0, "VEC3", "pos")
    info.vertex_in(1, "VEC3", "normal")
    info.vertex_in(2, "VEC4", "colour")
    info.vertex_in(3, "FLOAT", "pattern")
    info.vertex_in(4, "VEC2", "along")
    info.vertex_out(between)
    info.fragment_out(0, "VEC4", "fragColor")
    info.define("period", f"{palette.PERIOD:.4f}")
    dark = palette.to_linear(palette.srgb(palette.INK))
    for name, value in zip("rgb", dark, strict=True):
        info.define(f"dark_{name}", f"{value:.5f}")
    info.vertex_source(_VERTEX)
    info.fragment_source(_FRAGMENT)
    return gpu.shader.create_from_info(info)
