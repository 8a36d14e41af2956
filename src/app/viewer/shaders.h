// SPDX-License-Identifier: MIT
// What the graphics system runs, in its own language. Inside of Painter. Not for others.
#pragma once

namespace evenspit::viewer::shaders {

inline constexpr const char* solid_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 normal;
layout(location = 2) in float value;
layout(location = 3) in vec4 tint;
uniform mat4 model, view_projection, light;
out vec3 world_at, world_normal, own_at;
out vec4 in_light;
out float shown_value;
out vec4 shown_tint;
void main() {
    shown_tint = tint;
    shown_value = value;
    vec4 world = model * vec4(at, 1.0);
    world_at = world.xyz;
    own_at = at;
    world_normal = mat3(model) * normal;
    in_light = light * world;
    gl_Position = view_projection * world;
})";

// A key light that follows the eye from the upper left, sky and ground, a rim; soft shadows of the key light.
// Drawn by the processor both ways of a condition are gone, so that what is not needed is left out: HURRIED,
// no shadows and no fine grain; PLAIN, one colour all over.
inline constexpr const char* solid_fragment = R"(#version 330 core
in vec3 world_at, world_normal, own_at;
in vec4 in_light;
in float shown_value;
in vec4 shown_tint;
uniform vec3 eye, key, base;
uniform float gloss, glow, grain, clear, edge, mark, wrap;
uniform sampler2DShadow shadow;
uniform bool shaded, coloured;
uniform float least, most;
uniform vec2 struck_span;  // stations of what strikes; empty: nothing does
uniform vec4 struck_spot;  // of a wall: where, and how far round it
uniform vec2 kept;         // heights that are drawn
uniform vec4 cut;          // what lies beyond that plane is cut away
uniform sampler2D colours;
out vec4 colour;

#ifndef PLAIN
float hash(vec3 p) {
    p = fract(p * 0.3183099 + 0.1);
    p *= 17.0;
    return fract(p.x * p.y * p.z * (p.x + p.y + p.z));
}
float noise(vec3 p) {
    vec3 i = floor(p), f = fract(p);
    f = f * f * (3.0 - 2.0 * f);
    return mix(mix(mix(hash(i), hash(i + vec3(1, 0, 0)), f.x),
                   mix(hash(i + vec3(0, 1, 0)), hash(i + vec3(1, 1, 0)), f.x), f.y),
               mix(mix(hash(i + vec3(0, 0, 1)), hash(i + vec3(1, 0, 1)), f.x),
                   mix(hash(i + vec3(0, 1, 1)), hash(i + vec3(1, 1, 1)), f.x), f.y), f.z);
}
#endif
float lit_share() {
#ifdef HURRIED
    return 1.0;
#else
    if (!shaded) return 1.0;
    vec3 p = in_light.xyz * 0.5 + 0.5;
    if (p.z > 1.0) return 1.0;
    float sum = 0.0;
    for (int x = -1; x <= 1; ++x)
        for (int y = -1; y <= 1; ++y)
            sum += texture(shadow, vec3(p.xy + vec2(x, y) * 0.0018, p.z - 0.0030));
    return sum / 9.0;
#endif
}
void main() {
    if (world_at.z < kept.x || world_at.z > kept.y || dot(world_at, cut.xyz) > cut.w) discard;
    vec3 to_eye = normalize(eye - world_at);
    vec3 n = normalize(world_normal);
    float facing = dot(n, to_eye);
    if (facing < 0.0) { n = -n; facing = -facing; }
    vec3 own = mix(base, shown_tint.rgb, shown_tint.a);
#ifndef PLAIN
    if (coloured) {
        float share = clamp((shown_value - least) / max(most - least, 1e-9), 0.0, 1.0);
        // From middle to middle of the table's first and last colour.
        own = texture(colours, vec2((0.5 + share * 255.0) / 256.0, 0.5)).rgb;
        own = pow(own, vec3(2.2));
    }
    if (grain > 0.0) {
        float coarse = noise(own_at * 38.0), fine = 0.5;
#ifndef HURRIED
        fine = noise(own_at * 190.0);
#endif
        own *= 1.0 + grain * (0.8 * (coarse - 0.5) + 0.2 * (fine - 0.5));
    }
#endif
    float struck = 0.0;
    if (struck_span.y > struck_span.x)
        struck = smoothstep(struck_span.x - 0.004, struck_span.x, world_at.x) *
                 (1.0 - smoothstep(struck_span.y, struck_span.y + 0.004, world_at.x));
    if (struck_spot.w > 0.0)
        struck = max(struck, 1.0 - smoothstep(0.5 * struck_spot.w, struck_spot.w,
                                              distance(world_at, struck_spot.xyz)));
    own = mix(own, vec3(0.62, 0.015, 0.005), 0.85 * struck);
    float lit = lit_share();
    float lambert = dot(n, key);
    float soft = clamp((lambert + wrap) / (1.0 + wrap), 0.0, 1.0);
    vec3 sky = mix(vec3(0.34, 0.31, 0.29), vec3(0.62, 0.65, 0.70), 0.5 + 0.5 * n.z);
    vec3 light = sky * 0.62 + vec3(1.0, 0.96, 0.90) * 0.95 * soft * mix(0.25, 1.0, lit);
    light += vec3(0.16) * facing;
    // Enough of the light to show the shape, and no more, so that colours stay those of the legend.
    if (coloured) light = mix(vec3(1.0), light, 0.35);
    vec3 half_way = normalize(key + to_eye);
    float shine = gloss * pow(max(dot(n, half_way), 0.0), 12.0 + 90.0 * gloss) * lit;
    vec3 seen = own * light + vec3(shine);
    seen += vec3(0.10) * gloss * pow(1.0 - facing, 3.0);
#ifndef PLAIN
    if (glow > 0.0) {
        float heat = noise(own_at * 55.0) * 0.6 + noise(own_at * 150.0) * 0.4;
        // Ash covers the sides; the embers show between the lumps on top.
        seen += glow * mix(0.06, 1.0, max(n.z, 0.0)) * smoothstep(0.35, 0.95, heat) * vec3(1.5, 0.36, 0.05);
    }
#endif
    seen += mark * vec3(0.10, 0.16, 0.17);
    float alpha = clear < 1.0 ? mix(clear, 1.0, edge * pow(1.0 - facing, 2.2)) : 1.0;
    colour = vec4(pow(clamp(seen, 0.0, 1.0), vec3(1.0 / 2.2)), alpha);
})";

inline constexpr const char* depth_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 model, light;
void main() { gl_Position = light * model * vec4(at, 1.0); })";
inline constexpr const char* depth_fragment = "#version 330 core\nvoid main() {}";

// Counts how often a line of sight goes into a body and out of it beyond a cut.
inline constexpr const char* count_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 model, view_projection;
out vec3 world_at;
void main() {
    vec4 world = model * vec4(at, 1.0);
    world_at = world.xyz;
    gl_Position = view_projection * world;
})";
inline constexpr const char* count_fragment = R"(#version 330 core
in vec3 world_at;
uniform vec4 cut;
void main() { if (dot(world_at, cut.xyz) > cut.w) discard; })";

// The face of a cut: a square of its plane, in the colour of what is cut or by a figure; see
// scene::field_value().
inline constexpr const char* cap_vertex = R"(#version 330 core
uniform mat4 view_projection;
uniform vec3 middle, sideways, upward;
out vec3 world_at;
void main() {
    world_at = middle + sideways * float((gl_VertexID & 1) * 2 - 1) + upward * float((gl_VertexID & 2) - 1);
    gl_Position = view_projection * vec4(world_at, 1.0);
})";
inline constexpr const char* cap_fragment = R"(#version 330 core
in vec3 world_at;
uniform vec3 base;
uniform int what;  // 0: the base; 1: distance from the rod; 2: gap; 3: distance to the nearest tine;
                   // 4: temperature; 5: as done as it is
uniform vec4 done[4];  // colours of flesh; w: where it is so warm
uniform float turn, least, most, reach[128], reach_step;
uniform vec4 tine_root[32], tine_tip[32];  // w: the tine's radius
uniform int tines;
uniform mat4 to_cells;  // from the rod at turn 0 to the texture of temperatures
uniform sampler3D heat;
uniform sampler2D colours;
out vec4 colour;
float figure() {
    float radius = length(world_at.yz);
    if (what == 1) return radius;
    if (what == 2) {
        float station = clamp(world_at.x / reach_step, 0.0, 126.999);
        int i = int(station);
        return mix(reach[i], reach[i + 1], station - float(i)) - radius;
    }
    // Back to where the load is at turn 0.
    float c = cos(turn), s = sin(turn);
    vec3 own = vec3(world_at.x, c * world_at.y + s * world_at.z, c * world_at.z - s * world_at.y);
    if (what >= 4) return texture(heat, (to_cells * vec4(own, 1.0)).xyz).r;
    float near = 1e9;
    for (int i = 0; i < tines; ++i) {
        vec3 root = tine_root[i].xyz, run = tine_tip[i].xyz - root;
        float along = clamp(dot(own - root, run) / dot(run, run), 0.0, 1.0);
        near = min(near, distance(own, root + along * run) - tine_root[i].w);
    }
    return near;
}
void main() {
    if (what == 0) {
        colour = vec4(pow(base, vec3(1.0 / 2.2)), 1.0);
        return;
    }
    if (what == 5) {
        float warm = figure();
        vec3 flesh = done[0].rgb;
        for (int i = 1; i < 4; ++i)
            flesh = mix(flesh, done[i].rgb, clamp((warm - done[i - 1].w) / (done[i].w - done[i - 1].w), 0.0, 1.0));
        colour = vec4(pow(flesh, vec3(1.0 / 2.2)), 1.0);
        return;
    }
    float share = clamp((figure() - least) / max(most - least, 1e-9), 0.0, 1.0);
    colour = vec4(texture(colours, vec2((0.5 + share * 255.0) / 256.0, 0.5)).rgb, 1.0);
})";

// The line round a thing: the thing once more, grown sideways by so many pixels, where it is not itself.
inline constexpr const char* rim_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 normal;
uniform mat4 model, view_projection;
uniform vec2 grown;  // of half the picture's width and height
out vec3 world_at;
void main() {
    vec4 world = model * vec4(at, 1.0);
    world_at = world.xyz;
    gl_Position = view_projection * world;
    vec2 out_of = (view_projection * vec4(mat3(model) * normal, 0.0)).xy / max(grown, vec2(1e-9));
    if (length(out_of) > 1e-9) gl_Position.xy += normalize(out_of) * grown * gl_Position.w;
})";
inline constexpr const char* rim_fragment = R"(#version 330 core
in vec3 world_at;
uniform vec4 cut;
uniform vec3 base;
out vec4 colour;
void main() {
    if (dot(world_at, cut.xyz) > cut.w) discard;
    colour = vec4(base, 1.0);
})";

inline constexpr const char* sky_vertex = R"(#version 330 core
out vec2 place;
void main() {
    place = vec2((gl_VertexID & 1) * 2 - 1, (gl_VertexID & 2) - 1);
    gl_Position = vec4(place, 0.0, 1.0);
})";
inline constexpr const char* sky_fragment = R"(#version 330 core
in vec2 place;
uniform vec3 low, high;
out vec4 colour;
void main() {
    vec3 c = mix(low, high, smoothstep(-1.0, 0.9, place.y));
    colour = vec4(c, 1.0);
})";

}  // namespace evenspit::viewer::shaders
