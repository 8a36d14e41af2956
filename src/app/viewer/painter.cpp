// SPDX-License-Identifier: MIT
#include "app/viewer/painter.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <epoxy/gl.h>
#include <map>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

#include "app/viewer/colour_map.h"
#include "app/viewer/dress.h"
#include "app/viewer/gl_objects.h"
#include "app/viewer/shaders.h"

namespace evenspit::viewer {
namespace {

constexpr int shadow_size = 1024;
constexpr int most_samples = 4;

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

constexpr double struck_reach_m = 0.07;  // of the red round a place on a wall
constexpr double nearly_upright = 0.8;   // sine of how far the eye looks down or up

/// From above and below the cooker is cut open at the rod: the heights of it that are drawn, m.
std::pair<float, float> kept_heights(const Piece& piece, const Look& look) {
    constexpr float all = 1e6F;
    if (piece.thing.kind != Thing::Kind::surface) return {-all, all};
    const double up = look.camera.forward().z();
    return {up > nearly_upright ? 0.0F : -all, up < -nearly_upright ? 0.0F : all};
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
    Program solid{shaders::solid_vertex, shaders::solid_fragment};
    Program depth{shaders::depth_vertex, shaders::depth_fragment};
    Program sky{shaders::sky_vertex, shaders::sky_fragment};
    Target smooth, plain, scene, canvas;
    int samples = 1;
    bool slow = false;
    GLuint shadow_map = 0, shadow_target = 0, colours = 0, no_corners = 0;
    std::map<const ShapeMesh*, std::unique_ptr<Loaded>> shapes;
    std::map<const std::vector<float>*, std::unique_ptr<LoadedValues>> values;

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
        glGenTextures(1, &colours);
        glBindTexture(GL_TEXTURE_2D, colours);
        glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, map_colours, 1, 0, GL_RGB, GL_UNSIGNED_BYTE,
                     colour_map().data());
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
        glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    }
    Graphics(const Graphics&) = delete;
    Graphics& operator=(const Graphics&) = delete;
    ~Graphics() {
        glDeleteVertexArrays(1, &no_corners);
        glDeleteFramebuffers(1, &shadow_target);
        glDeleteTextures(1, &shadow_map);
        glDeleteTextures(1, &colours);
    }

    const Loaded& loaded(const SharedShape& shape) {
        std::unique_ptr<Loaded>& place = shapes[shape.get()];
        // Another shape may have come to stand where one was let go.
        if (!place || place->shape.lock() != shape) place = std::make_unique<Loaded>(shape);
        return *place;
    }
    const LoadedValues& loaded(const std::shared_ptr<const std::vector<float>>& figures) {
        std::unique_ptr<LoadedValues>& place = values[figures.get()];
        if (!place || place->values.lock() != figures) place = std::make_unique<LoadedValues>(figures);
        return *place;
    }
    void forget_unused() {
        std::erase_if(values, [](const auto& entry) { return entry.second->values.expired(); });
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

    /// In red where it strikes or is struck.
    void redden(const Piece& piece, const std::vector<scene::Struck>& struck) {
        float from = 1, to = 0;
        Vec3 spot = Vec3::Zero();
        double reach = 0;
        for (const scene::Struck& s : struck) {
            if (s.thing.kind == Thing::Kind::none || s.thing != piece.thing) continue;
            if (s.thing.kind == Thing::Kind::surface) {
                spot = s.at;
                reach = struck_reach_m;
            } else {
                from =
                    from > to ? static_cast<float>(s.from_m) : std::min(from, static_cast<float>(s.from_m));
                to = std::max(to, static_cast<float>(s.to_m));
            }
        }
        solid.set("struck_span", from, to);
        solid.set("struck_spot", spot, reach);
    }

    void draw(const Piece& piece, const Look& look, const Scene& scene) {
        draw_at(model_of(piece, look), piece, look, scene);
        const auto [low, high] = kept_heights(piece, look);
        // The near half is needed once the cut runs across.
        if (piece.faces_away && (low > -1 || high < 1))
            draw_at(Pose(Pose(model_of(piece, look).cast<double>()) *
                         Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitZ()))
                        .matrix()
                        .cast<float>(),
                    piece, look, scene);
    }

    void draw_at(const Mat4& model, const Piece& piece, const Look& look, const Scene& what) {
        const std::optional<Field>& field = what.field;
        const Dress dress = dress_of(piece.matter, look);
        solid.set("model", model);
        redden(piece, what.struck);
        const auto [low, high] = kept_heights(piece, look);
        solid.set("kept", low, high);
        solid.set("base", dress.base);
        solid.set("gloss", dress.gloss);
        solid.set("glow", dress.glow);
        solid.set("grain", dress.grain);
        solid.set("wrap", dress.wrap);
        solid.set("clear", dress.clear);
        solid.set("edge", dress.edge);
        const bool marked = look.marked.kind != Thing::Kind::none && piece.thing == look.marked;
        const bool shape_marked = look.marked_shape != nullptr && piece.shape.get() == look.marked_shape;
        solid.set("mark", shape_marked ? 3.0F : marked ? 1.0F : 0.0F);
        const Loaded& shape = loaded(piece.shape);
        const bool coloured = field && piece.values;
        solid.set("coloured", coloured ? 1 : 0);
        if (coloured) {
            solid.set("least", static_cast<float>(field->from));
            solid.set("most", static_cast<float>(field->to));
        }
        shape.use_values(coloured ? loaded(piece.values).buffer : 0);
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
    g.sky.set("low", look.dark ? Vec3(0.105, 0.108, 0.114) : Vec3(0.760, 0.745, 0.715));
    g.sky.set("high", look.dark ? Vec3(0.205, 0.210, 0.220) : Vec3(0.925, 0.925, 0.915));
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
    g.solid.set("colours", 1);
    glActiveTexture(GL_TEXTURE1);
    glBindTexture(GL_TEXTURE_2D, g.colours);
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
            g.draw(piece, look, scene);
            continue;
        }
        const int order = piece.matter == Matter::strike     ? 5
                          : piece.matter == Matter::ghost    ? 4
                          : piece.matter == Matter::envelope ? 3
                          : piece.matter == Matter::swung    ? 2
                          : piece.matter == Matter::skin     ? 1
                                                             : 0;
        glassy.emplace_back(order, &piece);
    }
    std::stable_sort(glassy.begin(), glassy.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    glEnable(GL_BLEND);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    for (const auto& [order, piece] : glassy) g.draw(*piece, look, scene);
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
