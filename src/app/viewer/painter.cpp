// SPDX-License-Identifier: MIT
#include "app/viewer/painter.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <epoxy/gl.h>
#include <initializer_list>
#include <map>
#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "app/viewer/colour_map.h"
#include "app/viewer/dress.h"
#include "app/viewer/gl_objects.h"
#include "app/viewer/painted_parts.h"
#include "app/viewer/shaders.h"

namespace evenspit::viewer {
namespace {

constexpr int shadow_size = 1024;
constexpr int most_samples = 4;

constexpr double struck_reach_m = 0.07;  // of the red round a place on a wall

/// A shader with some names defined: after its first line, which tells the version.
std::string with(const char* source, std::initializer_list<std::string_view> names) {
    std::string text = source;
    for (const std::string_view name : names)
        text.insert(text.find('\n') + 1, std::string("#define ").append(name) + '\n');
    return text;
}

}  // namespace

struct Painter::Graphics {
    Program solid{shaders::solid_vertex, shaders::solid_fragment};
    // The same in pictures that will not last: of what has a grain, a glow or colours, and of what has none.
    Program quick{shaders::solid_vertex, with(shaders::solid_fragment, {"HURRIED"}).c_str()};
    Program quick_plain{shaders::solid_vertex, with(shaders::solid_fragment, {"HURRIED", "PLAIN"}).c_str()};
    Program depth{shaders::depth_vertex, shaders::depth_fragment};
    Program sky{shaders::sky_vertex, shaders::sky_fragment};
    Program count{shaders::count_vertex, shaders::count_fragment};
    Program cap{shaders::cap_vertex, shaders::cap_fragment};
    Program rim{shaders::rim_vertex, shaders::rim_fragment};
    Target smooth, scene, canvas;
    Area shown;  // of what was painted last
    Standing standing;
    int samples = 1;
    bool slow = false;
    GLuint shadow_map = 0, shadow_target = 0, colours = 0, no_corners = 0;
    std::map<const ShapeMesh*, std::unique_ptr<Loaded>> shapes;
    std::map<const std::vector<float>*, std::unique_ptr<LoadedValues>> values;
    std::map<const HeatCells*, std::unique_ptr<LoadedHeat>> heats;

    Graphics() {
        GLint possible = 1;
        glGetIntegerv(GL_MAX_SAMPLES, &possible);
        samples = std::clamp(static_cast<int>(possible), 1, most_samples);
        const auto* const name = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
        // Mesa's drawing on the processor.
        slow = name != nullptr &&
               (std::strstr(name, "llvmpipe") != nullptr || std::strstr(name, "softpipe") != nullptr);
        glVertexAttrib4f(3, 0, 0, 0, 0);  // of shapes without tissues
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
    const LoadedHeat& loaded(const std::shared_ptr<const HeatCells>& cells) {
        std::unique_ptr<LoadedHeat>& place = heats[cells.get()];
        if (!place || place->cells.lock() != cells) place = std::make_unique<LoadedHeat>(cells);
        return *place;
    }
    void forget_unused() {
        std::erase_if(heats, [](const auto& entry) { return entry.second->cells.expired(); });
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
            if (!casts_shadow(piece.matter) || glassy || look.things_hidden.has(piece.thing)) continue;
            depth.set("model", model_of(piece, look));
            loaded(piece.shape).draw();
        }
    }

    void paint_sky(const Look& look) {
        glClearColor(0.9F, 0.9F, 0.88F, 1);
        glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
        glDisable(GL_DEPTH_TEST);
        sky.use();
        sky.set("low", look.dark ? Vec3(0.105, 0.108, 0.114) : Vec3(0.760, 0.745, 0.715));
        sky.set("high", look.dark ? Vec3(0.205, 0.210, 0.220) : Vec3(0.925, 0.925, 0.915));
        glBindVertexArray(no_corners);
        glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    }
    void prepare(const Program& program, const Look& look, const Vec3& key, const Mat4& light) const {
        program.use();
        program.set("view_projection",
                    Mat4((look.camera.projection(look.area) * look.camera.view()).cast<float>()));
        program.set("light", light);
        program.set("eye", look.camera.eye());
        program.set("key", key);
        program.set("shaded", look.hurried ? 0 : 1);
        program.set("shadow", 0);
        program.set("colours", 1);
    }
    void use_solid(const Look& look, const Vec3& key, const Mat4& light) {
        glEnable(GL_DEPTH_TEST);
        glDepthFunc(GL_LEQUAL);
        if (look.hurried) {
            prepare(quick, look, key, light);
            prepare(quick_plain, look, key, light);
        } else {
            prepare(solid, look, key, light);
        }
        glActiveTexture(GL_TEXTURE1);
        glBindTexture(GL_TEXTURE_2D, colours);
        glActiveTexture(GL_TEXTURE0);
        glBindTexture(GL_TEXTURE_2D, shadow_map);
    }
    /// The program that draws a piece.
    const Program& program_for(const Dress& dress, bool coloured, const Look& look) const {
        if (!look.hurried) return solid;
        return coloured || dress.grain > 0 || dress.glow > 0 ? quick : quick_plain;
    }

    /// In red where it strikes or is struck.
    static void redden(const Program& program, const Piece& piece, const std::vector<scene::Struck>& struck) {
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
        program.set("struck_span", from, to);
        program.set("struck_spot", spot, reach);
    }

    void prepare_cap(const Look& look, const Scene& what, const Mat4& view_projection) {
        const Section& section = *look.section;
        const bool across = section.way == Section::Way::across;
        cap.use();
        cap.set("view_projection", view_projection);
        // A metre each way: wider than any load.
        cap.set("middle", across ? Vec3(section.at_m, 0, 0) : Vec3(0.5, section.at_m, 0));
        cap.set("sideways", across ? Vec3(0, 1, 0) : Vec3(1, 0, 0));
        cap.set("upward", Vec3(0, 0, 1));
        cap.set("turn", static_cast<float>(look.turn_rad));
        cap.set("colours", 1);
        cap.set("heat", 2);
        std::vector<float> done;
        for (const DoneColour& stop : done_colours()) {
            for (const double v : {stop.colour.x(), stop.colour.y(), stop.colour.z(), stop.at_k})
                done.push_back(static_cast<float>(v));
        }
        cap.set_fours("done", done);
        if (!what.field) return;
        cap.set("least", static_cast<float>(what.field->from));
        cap.set("most", static_cast<float>(what.field->to));
        std::vector<float> reach, roots, tips;
        for (const Vec2& p : what.field->reach) reach.push_back(static_cast<float>(p.y()));
        if (reach.size() > 1) {
            cap.set("reach", reach);
            cap.set("reach_step", static_cast<float>(what.field->reach[1].x() - what.field->reach[0].x()));
        }
        constexpr std::size_t most_tines = 32;
        for (const scene::TineLine& tine : what.field->tines) {
            if (roots.size() == 4 * most_tines) break;
            for (const double v : {tine.root.x(), tine.root.y(), tine.root.z(), tine.radius_m})
                roots.push_back(static_cast<float>(v));
            for (const double v : {tine.tip.x(), tine.tip.y(), tine.tip.z(), 0.0})
                tips.push_back(static_cast<float>(v));
        }
        if (!roots.empty()) {
            cap.set_fours("tine_root", roots);
            cap.set_fours("tine_tip", tips);
        }
        cap.set("tines", static_cast<int>(roots.size() / 4));
    }

    /// Which figure colours the cut through a piece, as the shader counts; its heat is made ready.
    int cap_figure(const Piece& piece, const Scene& what) {
        const std::optional<Field>& field = what.field;
        const bool told = field && field->what != Colouring::heat;
        if (told && field->what != Colouring::temperature)
            return piece.matter == Matter::skin ? static_cast<int>(field->what) : 0;
        // Bones and stuffing have a temperature too; a hollow has air. Without figures flesh looks as done as
        // it is.
        if (told ? piece.matter == Matter::hollow : piece.matter != Matter::skin) return 0;
        if (piece.thing.index >= what.heat.size()) return 0;
        const scene::ItemHeat& heat = what.heat[piece.thing.index];
        const HeatCells& cells = *heat.cells;
        Pose to_cells = Pose(Eigen::Translation3d(-cells.origin)) * heat.to_item;
        Eigen::Matrix4d texture = Eigen::Matrix4d::Identity();
        for (Eigen::Index axis = 0; axis < 3; ++axis) {
            const auto cubes = double(cells.count[static_cast<std::size_t>(axis)]);
            texture(axis, axis) = 1 / (cells.spacing_m * cubes);
            texture(axis, 3) = 0.5 / cubes;
        }
        cap.set("to_cells", Mat4((texture * to_cells.matrix()).cast<float>()));
        glActiveTexture(GL_TEXTURE2);
        glBindTexture(GL_TEXTURE_3D, loaded(heat.cells).texture);
        glActiveTexture(GL_TEXTURE0);
        constexpr int as_done = 5;
        return told ? static_cast<int>(Colouring::temperature) : as_done;
    }

    /// Closes what a section has cut open: where a line of sight beyond the cut comes out of a body more
    /// often than it goes in, it begins inside of it.
    void close_cuts(const Scene& what, const Look& look) {
        const Mat4 view_projection = (look.camera.projection(look.area) * look.camera.view()).cast<float>();
        const Eigen::Vector4d cut = cut_of(look);
        prepare_cap(look, what, view_projection);
        glClear(GL_STENCIL_BUFFER_BIT);
        glEnable(GL_STENCIL_TEST);
        for (const Piece& piece : what.pieces) {
            const std::optional<Vec3> base = cut_colour(piece.matter);
            if (!base || piece.thing.kind != Thing::Kind::item || look.things_hidden.has(piece.thing))
                continue;
            count.use();
            count.set("view_projection", view_projection);
            count.set("model", model_of(piece, look));
            count.set("cut", Vec3(cut.head<3>()), cut.w());
            glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
            glDepthMask(GL_FALSE);
            glDisable(GL_DEPTH_TEST);
            glStencilFunc(GL_ALWAYS, 0, 0xFF);
            glStencilOpSeparate(GL_FRONT, GL_KEEP, GL_KEEP, GL_DECR_WRAP);
            glStencilOpSeparate(GL_BACK, GL_KEEP, GL_KEEP, GL_INCR_WRAP);
            loaded(piece.shape).draw(look.hurried);
            glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
            glDepthMask(GL_TRUE);
            glEnable(GL_DEPTH_TEST);
            cap.use();
            cap.set("base", *base);
            cap.set("what", cap_figure(piece, what));
            glStencilFunc(GL_NOTEQUAL, 0, 0xFF);
            glStencilOp(GL_ZERO, GL_ZERO, GL_ZERO);
            glBindVertexArray(no_corners);
            glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
        }
        glDisable(GL_STENCIL_TEST);
    }

    /// Draws a line round what is selected, over all that may hide it.
    void outline(const Scene& what, const Look& look, const Vec3& ink) {
        std::vector<const Piece*> pieces;
        for (const Piece& piece : what.pieces) {
            const bool outside = piece.matter == Matter::skin || piece.matter == Matter::fork ||
                                 piece.matter == Matter::weight;
            if (outside && piece.thing == look.selected && !look.things_hidden.has(piece.thing))
                pieces.push_back(&piece);
        }
        if (pieces.empty()) return;
        rim.use();
        rim.set("view_projection",
                Mat4((look.camera.projection(look.area) * look.camera.view()).cast<float>()));
        rim.set("base", ink);
        glClear(GL_STENCIL_BUFFER_BIT);
        glEnable(GL_STENCIL_TEST);
        glDisable(GL_DEPTH_TEST);
        const auto draw_all = [&](double grown_px) {
            rim.set("grown", static_cast<float>(2 * grown_px / look.area.width),
                    static_cast<float>(2 * grown_px / look.area.height));
            for (const Piece* piece : pieces) {
                const Eigen::Vector4d cut = is_cut(*piece) ? cut_of(look) : Eigen::Vector4d(0, 0, 0, 1);
                rim.set("cut", Vec3(cut.head<3>()), cut.w());
                rim.set("model", model_of(*piece, look));
                loaded(piece->shape).draw(look.hurried);
            }
        };
        glColorMask(GL_FALSE, GL_FALSE, GL_FALSE, GL_FALSE);
        glStencilFunc(GL_ALWAYS, 1, 0xFF);
        glStencilOp(GL_KEEP, GL_KEEP, GL_REPLACE);
        draw_all(0);
        glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
        glStencilFunc(GL_EQUAL, 0, 0xFF);
        glStencilOp(GL_KEEP, GL_KEEP, GL_KEEP);
        draw_all(look.rim_px);
        glEnable(GL_DEPTH_TEST);
        glDisable(GL_STENCIL_TEST);
    }

    void draw(const Piece& piece, const Look& look, const Scene& what) {
        draw_at(model_of(piece, look), piece, look, what);
        const auto [low, high] = kept_heights(piece, look);
        // The near half is needed once the cut runs across.
        if (piece.faces_away && (low > -1 || high < 1))
            draw_at(Pose(Pose(model_of(piece, look).cast<double>()) *
                         Eigen::AngleAxisd(std::numbers::pi, Vec3::UnitZ()))
                        .matrix()
                        .cast<float>(),
                    piece, look, what);
    }

    void draw_at(const Mat4& model, const Piece& piece, const Look& look, const Scene& what) {
        const std::optional<Field>& field = what.field;
        const Dress dress = dress_of(piece.matter, look);
        const bool coloured = field && piece.values;
        const Program& program = program_for(dress, coloured, look);
        program.use();
        program.set("model", model);
        redden(program, piece, what.struck);
        const auto [low, high] = kept_heights(piece, look);
        program.set("kept", low, high);
        const Eigen::Vector4d cut = is_cut(piece) ? cut_of(look) : Eigen::Vector4d(0, 0, 0, 1);
        program.set("cut", Vec3(cut.head<3>()), cut.w());
        program.set("base", dress.base);
        program.set("gloss", dress.gloss);
        program.set("glow", dress.glow);
        program.set("grain", dress.grain);
        program.set("wrap", dress.wrap);
        program.set("clear", dress.clear);
        program.set("edge", dress.edge);
        const bool marked = look.marked.kind != Thing::Kind::none && piece.thing == look.marked;
        const bool shape_marked = look.marked_shape != nullptr && piece.shape.get() == look.marked_shape;
        program.set("mark", shape_marked ? 3.0F : marked ? 1.0F : 0.0F);
        const Loaded& shape = loaded(piece.shape);
        program.set("coloured", coloured ? 1 : 0);
        if (coloured) {
            program.set("least", static_cast<float>(field->from));
            program.set("most", static_cast<float>(field->to));
        }
        shape.use_values(coloured ? loaded(piece.values).buffer : 0);
        if (dress.clear >= 1) return shape.draw(look.hurried);
        // The far side first, so that the near one lies over it.
        glEnable(GL_CULL_FACE);
        glCullFace(GL_FRONT);
        // While things move the veil's far side is not missed.
        if (!look.hurried || piece.matter != Matter::envelope) shape.draw(look.hurried);
        glCullFace(GL_BACK);
        shape.draw(look.hurried);
        glDisable(GL_CULL_FACE);
    }
};

Painter::Painter() : graphics_(std::make_unique<Graphics>()) {}

Painter::~Painter() = default;

void Painter::paint(const Scene& scene, const Look& look, Extent size) {
    Graphics& g = *graphics_;
    g.scene.fit(size, 0, true);
    Target& target = look.hurried ? g.scene : g.smooth;
    target.fit(size, look.hurried ? 0 : g.samples, true);
    g.shown = look.area;
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_BLEND);
    glDisable(GL_CULL_FACE);
    const Vec3 key = key_light(look.camera);
    const Mat4 light = light_matrix(key, scene.around());
    if (!look.hurried) g.cast_shadows(scene, look, light);

    const SortedPieces pieces = sorted_pieces(scene, look);
    glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
    glViewport(static_cast<GLint>(look.area.x),
               static_cast<GLint>(size.height - look.area.y - look.area.height),
               static_cast<GLsizei>(look.area.width), static_cast<GLsizei>(look.area.height));
    const bool kept = look.hurried && g.standing.matches(pieces, scene, look, size);
    if (kept) {
        g.standing.picture.copy_to(target, look.area, true);
        glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
    } else {
        g.paint_sky(look);
    }
    g.use_solid(look, key, light);
    if (!kept) {
        for (const Piece* piece : pieces.standing) g.draw(*piece, look, scene);
        if (look.hurried && g.standing.keep(pieces, scene, look, size)) {
            target.copy_to(g.standing.picture, look.area, true);
            glBindFramebuffer(GL_FRAMEBUFFER, target.framebuffer());
        }
    }
    for (const Piece* piece : pieces.turning) g.draw(*piece, look, scene);
    if (look.section) g.close_cuts(scene, look);
    glEnable(GL_BLEND);
    glBlendFunc(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    for (const Piece* piece : pieces.glassy) g.draw(*piece, look, scene);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    if (look.selected.kind != Thing::Kind::none)
        g.outline(scene, look, look.dark ? Vec3(0.45, 0.85, 0.92) : Vec3(0.0, 0.33, 0.40));

    if (!look.hurried) target.copy_to(g.scene, look.area);
    g.forget_unused();
}

std::vector<std::uint8_t> Painter::pixels(const Area& area, bool with_panels) const {
    const Target& from = with_panels ? graphics_->canvas : graphics_->scene;
    const auto width = static_cast<GLsizei>(area.width), height = static_cast<GLsizei>(area.height);
    const std::size_t row = static_cast<std::size_t>(width) * 3;
    std::vector<std::uint8_t> upward(row * static_cast<std::size_t>(height)), result(upward.size());
    glBindFramebuffer(GL_READ_FRAMEBUFFER, from.framebuffer());
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    // OpenGL begins at the bottom.
    const auto bottom = static_cast<GLint>(from.size().height - area.y - area.height);
    glReadPixels(static_cast<GLint>(area.x), bottom, width, height, GL_RGB, GL_UNSIGNED_BYTE, upward.data());
    for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y) {
        const auto begin = upward.begin() + static_cast<std::ptrdiff_t>(y * row);
        std::copy(begin, begin + static_cast<std::ptrdiff_t>(row),
                  result.end() - static_cast<std::ptrdiff_t>((y + 1) * row));
    }
    return result;
}

bool Painter::slow() const {
    return graphics_->slow;
}

unsigned Painter::canvas(Extent size) {
    Graphics& g = *graphics_;
    g.scene.fit(size, 0, true);
    g.canvas.fit(size, 0, false);
    // Panels fill the rest.
    g.scene.copy_to(g.canvas, g.shown);
    glBindFramebuffer(GL_FRAMEBUFFER, g.canvas.framebuffer());
    glViewport(0, 0, size.width, size.height);
    return g.canvas.framebuffer();
}

}  // namespace evenspit::viewer
