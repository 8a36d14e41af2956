// SPDX-License-Identifier: MIT
#include "app/viewer/painter.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstring>
#include <epoxy/gl.h>
#include <map>
#include <numbers>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace evenspit::viewer {
namespace {

using Mat4 = Eigen::Matrix4f;

constexpr int shadow_size = 1024;
constexpr int most_samples = 4;

constexpr const char* solid_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 normal;
uniform mat4 model, view_projection, light;
out vec3 world_at, world_normal, own_at;
out vec4 in_light;
void main() {
    vec4 world = model * vec4(at, 1.0);
    world_at = world.xyz;
    own_at = at;
    world_normal = mat3(model) * normal;
    in_light = light * world;
    gl_Position = view_projection * world;
})";

// A key light that follows the eye from the upper left, sky and ground, a rim; soft shadows of the key light.
constexpr const char* solid_fragment = R"(#version 330 core
in vec3 world_at, world_normal, own_at;
in vec4 in_light;
uniform vec3 eye, key, base;
uniform float gloss, glow, grain, clear, edge, mark, wrap;
uniform sampler2DShadow shadow;
uniform bool shaded;
out vec4 colour;

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
float lit_share() {
    if (!shaded) return 1.0;
    vec3 p = in_light.xyz * 0.5 + 0.5;
    if (p.z > 1.0) return 1.0;
    float sum = 0.0;
    for (int x = -1; x <= 1; ++x)
        for (int y = -1; y <= 1; ++y)
            sum += texture(shadow, vec3(p.xy + vec2(x, y) * 0.0018, p.z - 0.0030));
    return sum / 9.0;
}
void main() {
    vec3 to_eye = normalize(eye - world_at);
    vec3 n = normalize(world_normal);
    float facing = dot(n, to_eye);
    if (facing < 0.0) { n = -n; facing = -facing; }
    vec3 own = base;
    if (grain > 0.0) {
        float coarse = noise(own_at * 38.0), fine = noise(own_at * 190.0);
        own *= 1.0 + grain * (0.8 * (coarse - 0.5) + 0.2 * (fine - 0.5));
    }
    float lit = lit_share();
    float lambert = dot(n, key);
    float soft = clamp((lambert + wrap) / (1.0 + wrap), 0.0, 1.0);
    vec3 sky = mix(vec3(0.34, 0.31, 0.29), vec3(0.62, 0.65, 0.70), 0.5 + 0.5 * n.z);
    vec3 light = sky * 0.62 + vec3(1.0, 0.96, 0.90) * 0.95 * soft * mix(0.25, 1.0, lit);
    light += vec3(0.16) * facing;
    vec3 half_way = normalize(key + to_eye);
    float shine = gloss * pow(max(dot(n, half_way), 0.0), 12.0 + 90.0 * gloss) * lit;
    vec3 seen = own * light + vec3(shine);
    seen += vec3(0.10) * gloss * pow(1.0 - facing, 3.0);
    if (glow > 0.0) {
        float heat = noise(own_at * 55.0) * 0.6 + noise(own_at * 150.0) * 0.4;
        // Ash covers the sides; the embers show between the lumps on top.
        seen += glow * mix(0.06, 1.0, max(n.z, 0.0)) * smoothstep(0.35, 0.95, heat) * vec3(1.5, 0.36, 0.05);
    }
    seen += mark * vec3(0.10, 0.16, 0.17);
    float alpha = clear < 1.0 ? mix(clear, 1.0, edge * pow(1.0 - facing, 2.2)) : 1.0;
    colour = vec4(pow(clamp(seen, 0.0, 1.0), vec3(1.0 / 2.2)), alpha);
})";

constexpr const char* depth_vertex = R"(#version 330 core
layout(location = 0) in vec3 at;
uniform mat4 model, light;
void main() { gl_Position = light * model * vec4(at, 1.0); })";
constexpr const char* depth_fragment = "#version 330 core\nvoid main() {}";

constexpr const char* sky_vertex = R"(#version 330 core
out vec2 place;
void main() {
    place = vec2((gl_VertexID & 1) * 2 - 1, (gl_VertexID & 2) - 1);
    gl_Position = vec4(place, 0.0, 1.0);
})";
constexpr const char* sky_fragment = R"(#version 330 core
in vec2 place;
out vec4 colour;
void main() {
    vec3 low = vec3(0.760, 0.745, 0.715), high = vec3(0.925, 0.925, 0.915);
    vec3 c = mix(low, high, smoothstep(-1.0, 0.9, place.y));
    colour = vec4(c, 1.0);
})";

/// How a matter looks. Colours are linear.
struct Dress {
    Vec3 base;
    float gloss = 0;  // of highlights
    float glow = 0;   // of itself
    float grain = 0;  // unevenness of its colour
    float wrap = 0;   // how far light reaches round
    float clear = 1;  // least opacity, where it is seen straight
    float edge = 0;   // how much more opaque where it is seen aslant
};

Dress dress_of(Matter matter, const Look& look) {
    const bool through_skin = look.through_skin;
    switch (matter) {
        case Matter::skin:
            if (through_skin) {
                return {
                    .base = {0.62, 0.36, 0.20}, .gloss = 0.15F, .wrap = 0.4F, .clear = 0.26F, .edge = 0.85F};
            }
            return {.base = {0.66, 0.385, 0.20}, .gloss = 0.22F, .grain = 0.34F, .wrap = 0.35F};
        case Matter::bone:
            return {.base = {0.84, 0.79, 0.66}, .gloss = 0.12F, .wrap = 0.2F};
        case Matter::hollow:
            return {.base = {0.16, 0.35, 0.52}, .gloss = 0.05F, .wrap = 0.3F, .clear = 0.20F, .edge = 0.5F};
        case Matter::stuffing:
            return {.base = {0.45, 0.42, 0.15}, .grain = 0.4F, .wrap = 0.2F, .clear = 0.55F, .edge = 0.3F};
        case Matter::swung:
            return {.base = {0.66, 0.30, 0.12}, .wrap = 0.3F, .clear = 0.10F, .edge = 0.55F};
        case Matter::rod:
            return {.base = {0.46, 0.48, 0.51}, .gloss = 0.75F};
        case Matter::fork:
            return {.base = {0.30, 0.34, 0.40}, .gloss = 0.70F};
        case Matter::weight:
            return {.base = {0.52, 0.36, 0.10}, .gloss = 0.60F};
        case Matter::motor:
            if (looks_past_motor(look.camera.forward()))
                return {.base = {0.075, 0.105, 0.125}, .clear = 0.10F, .edge = 0.5F};
            return {.base = {0.075, 0.105, 0.125}, .gloss = 0.35F};
        case Matter::support:
            return {.base = {0.16, 0.18, 0.20}, .gloss = 0.4F};
        case Matter::wall:
            return {.base = {0.245, 0.255, 0.265}, .gloss = 0.08F, .wrap = 0.2F};
        case Matter::coal:
            return {.base = {0.050, 0.045, 0.045}, .gloss = 0.05F, .glow = 0.22F};
        case Matter::ember:
            return {.base = {0.085, 0.070, 0.062}, .glow = 0.9F, .grain = 0.5F};
        case Matter::ground:
            return {.base = {0.42, 0.39, 0.33}, .grain = 0.2F};
        case Matter::envelope:
            return {.base = {0.02, 0.30, 0.42}, .wrap = 0.5F, .clear = 0.05F, .edge = 0.50F};
    }
    return {.base = {0.5, 0.5, 0.5}};
}

bool casts_shadow(Matter matter) {
    switch (matter) {
        case Matter::skin:
        case Matter::bone:
        case Matter::rod:
        case Matter::fork:
        case Matter::weight:
        case Matter::motor:
        case Matter::support:
        case Matter::coal:
            return true;
        default:
            return false;
    }
}

GLuint compiled(GLenum kind, const char* source) {
    const GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 1, &source, nullptr);
    glCompileShader(shader);
    GLint fine = GL_FALSE;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &fine);
    if (fine == GL_TRUE) return shader;
    std::array<char, 1024> log{};
    glGetShaderInfoLog(shader, static_cast<GLsizei>(log.size()), nullptr, log.data());
    throw std::runtime_error(std::string("the graphics system refuses a shader: ") + log.data());
}

/// A shader program; its uniforms go by name.
class Program {
  public:
    Program(const char* vertex, const char* fragment) : name_(glCreateProgram()) {
        const GLuint v = compiled(GL_VERTEX_SHADER, vertex), f = compiled(GL_FRAGMENT_SHADER, fragment);
        glAttachShader(name_, v);
        glAttachShader(name_, f);
        glLinkProgram(name_);
        glDeleteShader(v);
        glDeleteShader(f);
        GLint fine = GL_FALSE;
        glGetProgramiv(name_, GL_LINK_STATUS, &fine);
        if (fine != GL_TRUE) throw std::runtime_error("the graphics system cannot link a shader");
    }
    Program(const Program&) = delete;
    Program& operator=(const Program&) = delete;
    ~Program() { glDeleteProgram(name_); }

    void use() const { glUseProgram(name_); }
    void set(const char* uniform, const Mat4& m) const {
        glUniformMatrix4fv(at(uniform), 1, GL_FALSE, m.data());
    }
    void set(const char* uniform, const Vec3& v) const {
        const Eigen::Vector3f f = v.cast<float>();
        glUniform3fv(at(uniform), 1, f.data());
    }
    void set(const char* uniform, float v) const { glUniform1f(at(uniform), v); }
    void set(const char* uniform, int v) const { glUniform1i(at(uniform), v); }

  private:
    [[nodiscard]] GLint at(const char* uniform) const { return glGetUniformLocation(name_, uniform); }
    GLuint name_;
};

/// A framebuffer with colour and, if wanted, depth.
class Target {
  public:
    Target() = default;
    Target(const Target&) = delete;
    Target& operator=(const Target&) = delete;
    ~Target() { drop(); }

    void fit(Extent size, int samples, bool depth) {
        if (size == size_ && framebuffer_ != 0) return;
        drop();
        size_ = size;
        glGenFramebuffers(1, &framebuffer_);
        glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
        colour_ = attach(GL_COLOR_ATTACHMENT0, GL_RGBA8, samples);
        if (depth) depth_ = attach(GL_DEPTH_ATTACHMENT, GL_DEPTH_COMPONENT24, samples);
        if (glCheckFramebufferStatus(GL_FRAMEBUFFER) != GL_FRAMEBUFFER_COMPLETE)
            throw std::runtime_error("the graphics system has no room for the picture");
    }
    [[nodiscard]] GLuint framebuffer() const { return framebuffer_; }

    void copy_to(const Target& other) const {
        glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer_);
        glBindFramebuffer(GL_DRAW_FRAMEBUFFER, other.framebuffer_);
        glBlitFramebuffer(0, 0, size_.width, size_.height, 0, 0, size_.width, size_.height,
                          GL_COLOR_BUFFER_BIT, GL_NEAREST);
    }

  private:
    [[nodiscard]] GLuint attach(GLenum where, GLenum format, int samples) const {
        GLuint buffer = 0;
        glGenRenderbuffers(1, &buffer);
        glBindRenderbuffer(GL_RENDERBUFFER, buffer);
        glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, format, size_.width, size_.height);
        glFramebufferRenderbuffer(GL_FRAMEBUFFER, where, GL_RENDERBUFFER, buffer);
        return buffer;
    }
    void drop() {
        glDeleteFramebuffers(1, &framebuffer_);
        glDeleteRenderbuffers(1, &colour_);
        glDeleteRenderbuffers(1, &depth_);
        framebuffer_ = colour_ = depth_ = 0;
    }

    Extent size_;
    GLuint framebuffer_ = 0, colour_ = 0, depth_ = 0;
};

/// A shape in the graphics system's memory.
struct Loaded {
    std::weak_ptr<const ShapeMesh> shape;
    GLuint layout = 0, corners = 0, triangles = 0;
    GLsizei count = 0;

    explicit Loaded(const SharedShape& from)
        : shape(from), count(static_cast<GLsizei>(from->triangles.size())) {
        glGenVertexArrays(1, &layout);
        glGenBuffers(1, &corners);
        glGenBuffers(1, &triangles);
        glBindVertexArray(layout);
        glBindBuffer(GL_ARRAY_BUFFER, corners);
        glBufferData(GL_ARRAY_BUFFER,
                     static_cast<GLsizeiptr>(from->corners.size() * sizeof(ShapeMesh::Corner)),
                     from->corners.data(), GL_STATIC_DRAW);
        glBindBuffer(GL_ELEMENT_ARRAY_BUFFER, triangles);
        glBufferData(GL_ELEMENT_ARRAY_BUFFER,
                     static_cast<GLsizeiptr>(from->triangles.size() * sizeof(std::uint32_t)),
                     from->triangles.data(), GL_STATIC_DRAW);
        constexpr GLsizei stride = sizeof(ShapeMesh::Corner);
        glEnableVertexAttribArray(0);
        glVertexAttribPointer(0, 3, GL_FLOAT, GL_FALSE, stride, nullptr);
        glEnableVertexAttribArray(1);
        const std::size_t normals = offsetof(ShapeMesh::Corner, normal);
        // OpenGL takes this offset as a pointer.
        glVertexAttribPointer(1, 3, GL_FLOAT, GL_FALSE, stride,
                              reinterpret_cast<const void*>(normals));  // NOLINT(performance-no-int-to-ptr)
        glBindVertexArray(0);
    }
    Loaded(const Loaded&) = delete;
    Loaded& operator=(const Loaded&) = delete;
    ~Loaded() {
        glDeleteVertexArrays(1, &layout);
        glDeleteBuffers(1, &corners);
        glDeleteBuffers(1, &triangles);
    }
    void draw() const {
        glBindVertexArray(layout);
        glDrawElements(GL_TRIANGLES, count, GL_UNSIGNED_INT, nullptr);
    }
};

Mat4 model_of(const Piece& piece, const Look& look) {
    Pose pose = piece.turns ? turned_rod(look.turn_rad) * piece.pose : piece.pose;
    if (piece.faces_away) {
        // The eye in the wall's own frame decides where it is cut.
        const Vec3 aside = look.camera.eye() - piece.pose.translation();
        const double azimuth = std::atan2(aside.x(), -aside.y());
        pose = pose * Eigen::AngleAxisd(azimuth, Vec3::UnitZ());
    }
    return pose.matrix().cast<float>();
}

/// The key light: from the upper left behind the eye.
Vec3 key_light(const Camera& camera) {
    const Vec3 level = Vec3(camera.forward().x(), camera.forward().y(), 0);
    const Vec3 ahead = level.norm() > 1e-6 ? Vec3(level.normalized()) : Vec3(Vec3::UnitY());
    return (-0.75 * ahead - 0.62 * camera.right() + 1.15 * Vec3::UnitZ()).normalized();
}

/// World → the light's box, which holds all that casts shadows.
Mat4 light_matrix(const Vec3& key, const Box3& around) {
    const Vec3 centre = around.center();
    const double reach = around.diagonal().norm() / 2 + 0.01;
    const Vec3 side = key.cross(Vec3::UnitZ()).normalized(), up = side.cross(key);
    Eigen::Matrix4d m = Eigen::Matrix4d::Identity();
    m.row(0).head<3>() = side / reach;
    m.row(1).head<3>() = up / reach;
    m.row(2).head<3>() = -key / reach;
    m.topRightCorner<3, 1>() = -m.topLeftCorner<3, 3>() * centre;
    return m.cast<float>();
}

}  // namespace

struct Painter::Graphics {
    Program solid{solid_vertex, solid_fragment};
    Program depth{depth_vertex, depth_fragment};
    Program sky{sky_vertex, sky_fragment};
    Target smooth, plain, scene, canvas;
    int samples = 1;
    bool slow = false;
    GLuint shadow_map = 0, shadow_target = 0, no_corners = 0;
    std::map<const ShapeMesh*, std::unique_ptr<Loaded>> shapes;

    Graphics() {
        GLint possible = 1;
        glGetIntegerv(GL_MAX_SAMPLES, &possible);
        samples = std::clamp(static_cast<int>(possible), 1, most_samples);
        const auto* const name = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
        // Mesa's drawing on the processor.
        slow = name != nullptr &&
               (std::strstr(name, "llvmpipe") != nullptr || std::strstr(name, "softpipe") != nullptr);
        glGenVertexArrays(1, &no_corners);
        glGenTextures(1, &shadow_map);
        glBindTexture(GL_TEXTURE_2D, shadow_map);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_DEPTH_COMPONENT24, shadow_size, shadow_size, 0, GL_DEPTH_COMPONENT,
                     GL_UNSIGNED_INT, nullptr);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
        glGenFramebuffers(1, &shadow_target);
        glBindFramebuffer(GL_FRAMEBUFFER, shadow_target);
        glFramebufferTexture2D(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_TEXTURE_2D, shadow_map, 0);
        glDrawBuffer(GL_NONE);
        glReadBuffer(GL_NONE);
    }
    Graphics(const Graphics&) = delete;
    Graphics& operator=(const Graphics&) = delete;
    ~Graphics() {
        glDeleteVertexArrays(1, &no_corners);
        glDeleteFramebuffers(1, &shadow_target);
        glDeleteTextures(1, &shadow_map);
    }

    const Loaded& loaded(const SharedShape& shape) {
        std::unique_ptr<Loaded>& place = shapes[shape.get()];
        // Another shape may have come to stand where one was let go.
        if (!place || place->shape.lock() != shape) place = std::make_unique<Loaded>(shape);
        return *place;
    }
    void forget_unused() {
        std::erase_if(shapes, [](const auto& entry) { return entry.second->shape.expired(); });
    }

    void cast_shadows(const Scene& what, const Look& look, const Mat4& light) {
        glBindFramebuffer(GL_FRAMEBUFFER, shadow_target);
        glViewport(0, 0, shadow_size, shadow_size);
        glEnable(GL_DEPTH_TEST);
        glDepthMask(GL_TRUE);
        glClear(GL_DEPTH_BUFFER_BIT);
        depth.use();
        depth.set("light", light);
        for (const Piece& piece : what.pieces) {
            const bool glassy = dress_of(piece.matter, look).clear < 1;
            if (!casts_shadow(piece.matter) || glassy) continue;
            depth.set("model", model_of(piece, look));
            loaded(piece.shape).draw();
        }
    }

    void draw(const Piece& piece, const Look& look) {
        const Dress dress = dress_of(piece.matter, look);
        solid.set("model", model_of(piece, look));
        solid.set("base", dress.base);
        solid.set("gloss", dress.gloss);
        solid.set("glow", dress.glow);
        solid.set("grain", dress.grain);
        solid.set("wrap", dress.wrap);
        solid.set("clear", dress.clear);
        solid.set("edge", dress.edge);
        const bool marked = look.marked.kind != Thing::Kind::none && piece.thing == look.marked;
        solid.set("mark", marked ? 1.0F : 0.0F);
        const Loaded& shape = loaded(piece.shape);
        if (dress.clear >= 1) return shape.draw();
        // The far side first, so that the near one lies over it.
        glEnable(GL_CULL_FACE);
        glCullFace(GL_FRONT);
        shape.draw();
        glCullFace(GL_BACK);
        shape.draw();
        glDisable(GL_CULL_FACE);
    }
};

Painter::Painter() : graphics_(std::make_unique<Graphics>()) {}

Painter::~Painter() = default;

void Painter::paint(const Scene& scene, const Look& look, Extent size) {
    Graphics& g = *graphics_;
    Target& target = look.hurried ? g.plain : g.smooth;
    target.fit(size, look.hurried ? 0 : g.samples, true);
    g.scene.fit(size, 0, false);
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_BLEND);
    glDisable(GL_CULL_FACE);
    const Vec3 key = key_light(look.camera);
    const Mat4 light = light_matrix(key, scene.around());
    if (!look.hurried) g.cast_shadows(scene, look, light);

    glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
    glClearColor(0.9F, 0.9F, 0.88F, 1);
    glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
    const auto x = static_cast<GLint>(look.area.x);
    const auto y = static_cast<GLint>(size.height - look.area.y - look.area.height);
    const auto width = static_cast<GLsizei>(look.area.width), height = static_cast<GLsizei>(look.area.height);
    glViewport(x, y, width, height);
    glDisable(GL_DEPTH_TEST);
    g.sky.use();
    glBindVertexArray(g.no_corners);
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);

    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    g.solid.use();
    g.solid.set("view_projection",
                Mat4((look.camera.projection(look.area) * look.camera.view()).cast<float>()));
    g.solid.set("light", light);
    g.solid.set("eye", look.camera.eye());
    g.solid.set("key", key);
    g.solid.set("shaded", look.hurried ? 0 : 1);
    g.solid.set("shadow", 0);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, g.shadow_map);

    const auto hidden = [&](const Piece& piece) {
        if (piece.matter == Matter::envelope) return !look.envelope;
        if (piece.thing.kind == Thing::Kind::surface) return !look.cooker;
        return piece.matter == Matter::hollow && !look.through_skin;
    };
    // What is glassy comes after what is not, the innermost first.
    std::vector<std::pair<int, const Piece*>> glassy;
    for (const Piece& piece : scene.pieces) {
        if (hidden(piece)) continue;
        if (dress_of(piece.matter, look).clear >= 1) {
            g.draw(piece, look);
            continue;
        }
        const int order = piece.matter == Matter::envelope ? 3
                          : piece.matter == Matter::swung  ? 2
                          : piece.matter == Matter::skin   ? 1
                                                           : 0;
        glassy.emplace_back(order, &piece);
    }
    std::stable_sort(glassy.begin(), glassy.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    glEnable(GL_BLEND);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    for (const auto& [order, piece] : glassy) g.draw(*piece, look);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);

    target.copy_to(g.scene);
    g.forget_unused();
}

bool Painter::slow() const {
    return graphics_->slow;
}

unsigned Painter::canvas(Extent size) {
    Graphics& g = *graphics_;
    g.scene.fit(size, 0, false);
    g.canvas.fit(size, 0, false);
    g.scene.copy_to(g.canvas);
    glBindFramebuffer(GL_FRAMEBUFFER, g.canvas.framebuffer());
    glViewport(0, 0, size.width, size.height);
    return g.canvas.framebuffer();
}

}  // namespace evenspit::viewer
