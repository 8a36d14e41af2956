// SPDX-License-Identifier: MIT
#include "app/viewer/viewer.h"

#include <algorithm>
#include <backends/imgui_impl_opengl3.h>
#include <cmath>
#include <epoxy/gl.h>
#include <utility>

#include "app/viewer/axes_mark.h"
#include "app/viewer/film.h"
#include "app/viewer/keys.h"
#include "app/viewer/legend.h"
#include "app/viewer/panels/parts.h"
#include "app/viewer/scan_load.h"

namespace evenspit::viewer {
namespace {

constexpr int frames_to_rest = 3;
// A hand trembles by so much while it clicks.
constexpr double tremble_px = 4;
constexpr double twice_within_s = 0.4;     // as desktops have it, common practice
constexpr double slow_frame_s = 1.0 / 25;  // as films have had it, common practice
constexpr double rim_pt = 2;               // round what is chosen
constexpr double edge_reach_pt = 4;
constexpr double orbit_rad_per_px = 0.008;

}  // namespace

Viewer::Viewer(WindowSystem& system, Desk::Surround around)
    : system_(system), ui_(system.scale()), desk_(std::move(around)) {
    ui_.use_clipboard(system);
    ImGui_ImplOpenGL3_Init("#version 330 core");
    graphics_ready_ = true;
    desk_.set_area(layout().scene);
}

Viewer::~Viewer() {
    if (graphics_ready_) ImGui_ImplOpenGL3_Shutdown();
}

double Viewer::scale() const {
    return grown_ * (desk_.settings().scale > 0 ? desk_.settings().scale : system_.scale());
}

Layout Viewer::layout() const {
    return layout_of(size_now(), scale(), desk_.settings().splits);
}

bool Viewer::line_in_hand() const {
    return overlay_.grab && (overlay_.grab->handle().grip == Grip3d::line_from ||
                             overlay_.grab->handle().grip == Grip3d::line_to);
}

// --- the pointer ---

void Viewer::point_at(double x, double y) {
    const double dx = x - x_, dy = y - y_;
    x_ = x;
    y_ = y;
    if (edge_held_) {
        edge_clicked_at_s_ = -1;
        return desk_.wish(SetSplits{
            pulled_edge(desk_.settings().splits, *edge_held_, layout(), system_.picture_size(), x, y)});
    }
    edge_hovered_ = held_ || desk_.dialog() != Dialog::none
                        ? std::nullopt
                        : edge_at(layout(), x, y, edge_reach_pt * scale());
    if (held_) {
        if (std::hypot(x - first_x_, y - first_y_) > tremble_px * scale()) dragged_ = true;
        if (!dragged_) return;
        if (overlay_.grab) return drag(x, y);
        if (section_held_ && desk_.section()) {
            Section section = *desk_.section();
            section.at_m = section_from_;
            section.at_m = pulled_section(section, *section_held_, desk_.camera().ray(x, y, layout().scene));
            return desk_.wish(SetSection{section});
        }
        if (*held_ == MouseButton::left) {
            desk_.wish(Orbit{-dx / scale() * orbit_rad_per_px, dy / scale() * orbit_rad_per_px});
        } else {
            desk_.wish(Pan{dx, -dy});
        }
        return;
    }
    overlay_.hovered.reset();
    overlay_.hovered_handle.reset();
    const Area scene = layout().scene;
    if (!desk_.has_answer() || !scene.contains(x, y) || ui_.covers(x_, y_)) return;
    overlay_.hovered_handle = handle_at(ui_, desk_, scene, x, y);
    if (!overlay_.hovered_handle) {
        overlay_.hovered = sighted(desk_.session().assembly(), desk_.camera().ray(x, y, scene),
                                   desk_.turn().angle_rad, desk_.hidden());
    }
    const bool hidden =
        overlay_.hovered && overlay_.hovered->thing.kind == Thing::Kind::surface && !desk_.shows_cooker();
    if (hidden) overlay_.hovered.reset();
}

void Viewer::drag(double x, double y) {
    // Round figures in the reader's own units.
    Snap snap{.on = !modifiers_.shift};
    if (desk_.settings().units == UnitSystem::us) snap.length_m = 0.0254 / 32;
    if (const auto edit = overlay_.grab->pulled(desk_.camera(), layout().scene, x, y, snap))
        desk_.wish(DoEdit{*edit, "drag"});
}

void Viewer::press_edge() {
    const bool twice = system_.now() - edge_clicked_at_s_ < twice_within_s;
    edge_clicked_at_s_ = twice ? -1 : system_.now();
    edge_held_ = edge_hovered_;
    if (!twice) return;
    // As it was at first.
    Splits splits = desk_.settings().splits;
    (*edge_held_ == Edge::side     ? splits.side
     : *edge_held_ == Edge::charts ? splits.charts
                                   : splits.scene) = 0;
    edge_held_.reset();
    desk_.wish(SetSplits{splits});
}

void Viewer::press(const MousePressed& press) {
    modifiers_ = press.modifiers;
    if (!press.down && edge_held_) return edge_held_.reset();
    if (press.down && press.button == MouseButton::left && edge_hovered_) return press_edge();
    const Area scene = layout().scene;
    if (press.down && press.button == MouseButton::left && desk_.has_answer() &&
        desk_.dialog() == Dialog::none && !ui_.panel_covers(x_, y_)) {
        if (const auto view = axis_view_at(desk_.camera(), scene, scale(), x_, y_))
            return desk_.wish(LookFrom{*view});
    }
    if (press.down) {
        if (held_ || !desk_.has_answer() || !scene.contains(x_, y_) || ui_.covers(x_, y_) ||
            desk_.dialog() != Dialog::none)
            return;
        held_ = press.button;
        dragged_ = false;
        first_x_ = x_;
        first_y_ = y_;
        if (press.button != MouseButton::left) return;
        if (is_at_section_handle(ui_, desk_, scene, x_, y_)) {
            section_held_ = section_handle(desk_);
            section_from_ = desk_.section()->at_m;
            return;
        }
        if (desk_.tape().on()) return;
        std::optional<Handle> handle = handle_at(ui_, desk_, scene, x_, y_);
        // Small things can be slid as they are; a body covers so much of the view that it is left for looking
        // round.
        const Thing thing = overlay_.hovered ? overlay_.hovered->thing : Thing{};
        if (!handle && movable(thing) && thing.kind != Thing::Kind::item && thing == desk_.selected())
            handle = Handle{Grip3d::slide, thing, overlay_.hovered->at};
        if (handle) {
            overlay_.grab.emplace(*handle, desk_.session().assembly(), desk_.camera(), scene,
                                  desk_.turn().angle_rad, x_, y_);
        }
        return;
    }
    if (held_ != press.button) return;
    if (section_held_) {
        section_held_.reset();
    } else if (overlay_.grab) {
        overlay_.grab.reset();
        desk_.wish(EndGesture{});
    } else if (!dragged_ && press.button == MouseButton::left && desk_.has_answer()) {
        const auto seen = sighted(desk_.session().assembly(), desk_.camera().ray(x_, y_, scene),
                                  desk_.turn().angle_rad, desk_.hidden());
        if (desk_.tape().on()) {
            held_.reset();
            if (seen) desk_.wish(Measure{seen_place(desk_, *seen), turns_with_rod(seen->thing)});
            return;
        }
        desk_.wish(Select{seen && movable(seen->thing) ? seen->thing : Thing{}});
        const bool twice = system_.now() - clicked_at_s_ < twice_within_s &&
                           std::hypot(x_ - clicked_x_, y_ - clicked_y_) < tremble_px * scale();
        if (twice && seen) desk_.wish(LookAt{seen->at});
        clicked_at_s_ = twice ? -1 : system_.now();
        clicked_x_ = x_;
        clicked_y_ = y_;
    }
    held_.reset();
    point_at(x_, y_);
}

// --- keys ---

void Viewer::key(const KeyPressed& key) {
    modifiers_ = key.modifiers;
    if (!key.down || ui_.takes(key)) return;
    if (const std::optional<Wish> wish = wish_of(key, desk_)) desk_.wish(*wish);
}

/// Takes in one event for the scene; the panels get it too.
struct Viewer::Handler {
    Viewer& viewer;

    void operator()(const MouseMoved& e) const { viewer.point_at(e.x, e.y); }
    void operator()(const PointerLeft& /*e*/) const {
        viewer.edge_hovered_.reset();
        viewer.overlay_.hovered.reset();
        viewer.overlay_.hovered_handle.reset();
    }
    void operator()(const MousePressed& e) const { viewer.press(e); }
    void operator()(const MouseWheel& e) const {
        const Area scene = viewer.layout().scene;
        if (!viewer.desk_.has_answer() || !scene.contains(viewer.x_, viewer.y_) ||
            viewer.ui_.covers(viewer.x_, viewer.y_))
            return;
        const Camera& camera = viewer.desk_.camera();
        const Vec3 toward = viewer.overlay_.hovered ? viewer.overlay_.hovered->at : [&] {
            const Ray ray = camera.ray(viewer.x_, viewer.y_, scene);
            return Vec3(ray.from + camera.distance() / ray.along.dot(camera.forward()) * ray.along);
        }();
        viewer.desk_.wish(Zoom{e.up, toward});
    }
    void operator()(const KeyPressed& e) const { viewer.key(e); }
    void operator()(const TextTyped& e) const {
        // A question mark is asked for with other keys on every keyboard.
        if (e.character == '?' && !viewer.ui_.typing() && viewer.desk_.dialog() == Dialog::none)
            viewer.desk_.wish(ShowDialog{Dialog::help});
    }
    void operator()(const FilesDropped& e) const {
        if (e.files.empty()) return;
        // Whoever is answering what is roasted drops what is roasted.
        if (viewer.desk_.dialog() == Dialog::new_load && ending_of(e.files.front()) != ".toml") {
            viewer.panels_.new_load.typed["roast"] = e.files.front().string();
            return;
        }
        // One load is on the table at a time.
        viewer.desk_.wish(DropFile{e.files.front()});
    }
    void operator()(const CloseAsked& /*e*/) const { viewer.desk_.wish(Quit{}); }
    void operator()(const Exposed& /*e*/) const {}
};

// --- drawing ---

Look Viewer::look_now(const Layout& layout) const {
    Look look;
    look.camera = desk_.camera();
    look.area = layout.scene;
    look.turn_rad = desk_.turn().angle_rad;
    look.through_skin = desk_.settings().through_skin;
    look.skin_opacity = desk_.settings().skin_opacity;
    look.envelope = desk_.shows_envelope() && !line_in_hand();
    look.cooker = desk_.shows_cooker();
    look.dark = desk_.settings().theme == Theme::dark;
    const bool moving = desk_.lively() || (held_ && dragged_);
    look.hurried = hurried_ || (moving && painter_.slow());
    look.marked = overlay_.hovered && movable(overlay_.hovered->thing) ? overlay_.hovered->thing : Thing{};
    look.marked_shape = desk_.marked_bone();
    look.section = desk_.section();
    if (movable(desk_.selected())) look.selected = desk_.selected();
    look.rim_px = rim_pt * scale();
    look.things_hidden = desk_.hidden();
    return look;
}

void Viewer::paint_scene(const Layout& layout, Extent size) {
    const Look look = look_now(layout);
    const std::optional<RodLine> line =
        line_in_hand()
            ? std::optional(overlay_.grab->start().items[overlay_.grab->handle().thing.index].seat.line)
            : std::nullopt;
    if (painted_ && painted_->scene == desk_.scene_number() && painted_->size == size &&
        same_look(painted_->look, look) && painted_->line_in_hand.has_value() == line.has_value())
        return;
    if (line) {
        // The body stays where it is while the line moves through it.
        Scene held = desk_.scene();
        for (Piece& piece : held.pieces) {
            const bool held_item =
                piece.thing.kind == Thing::Kind::item || piece.thing.kind == Thing::Kind::limb;
            if (held_item && piece.thing.index == overlay_.grab->handle().thing.index)
                piece.pose = overlay_.grab->start().items[piece.thing.index].pose;
        }
        painter_.paint(held, look, size);
    } else {
        painter_.paint(desk_.scene(), look, size);
    }
    painted_ = Painted{desk_.scene_number(), look, size, line};
}

void Viewer::draw_panels_only() {
    const Extent size = size_now();
    ui_.set_scale(scale());
    ui_.set_theme(desk_.settings().theme);
    const Layout parts = layout();
    desk_.set_area(parts.scene);
    const double now = system_.now();
    const bool new_letters = ui_.letters_are_stale();
    if (new_letters) ImGui_ImplOpenGL3_DestroyFontsTexture();
    ui_.make_letters();
    if (new_letters) ImGui_ImplOpenGL3_CreateFontsTexture();
    ImGui_ImplOpenGL3_NewFrame();
    ui_.frame(size, now - std::exchange(drawn_at_, now));
    overlay_.stale = desk_.has_answer() && desk_.stale();
    if (desk_.has_answer()) draw_axes(ui_, desk_.camera(), parts.scene);
    draw_overlay(ui_, desk_, parts, overlay_);
    if (desk_.has_answer() && desk_.scene().field)
        draw_legend(ui_, *desk_.scene().field, parts.scene, desk_.settings().units);
    draw_panels(ui_, desk_, parts, panels_);
    if (const auto edge = edge_held_ ? edge_held_ : edge_hovered_) {
        const Area line = edge_area(parts, *edge, ui_.px(3));
        ImGui::GetForegroundDrawList()->AddRectFilled(corner(line.x, line.y),
                                                      corner(line.x + line.width, line.y + line.height),
                                                      ui_.colour(Ink::accent));
    }
    ui_.end();
}

void Viewer::draw() {
    const Extent size = system_.picture_size();
    if (size.width <= 0 || size.height <= 0) return;
    draw_panels_only();
    paint_scene(layout(), size);
    const unsigned canvas = painter_.canvas(size);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    system_.present(canvas);
    save_picture();
    if (std::string title = desk_.title(); title != title_) {
        title_ = std::move(title);
        system_.set_title(title_);
    }
}

void Viewer::take(const Event& event) {
    ui_.take(event);
    std::visit(Handler{*this}, event);
    // Panels see a key or a button go down before it goes up: what was queued is all told within one frame.
    const Extent size = system_.picture_size();
    const bool button =
        std::holds_alternative<MousePressed>(event) || std::holds_alternative<KeyPressed>(event);
    if (!button || size.width <= 0 || size.height <= 0) return;
    draw_panels_only();
    desk_.tick(system_.now());
}

bool Viewer::step() {
    constexpr double film_patience_s = 0.005;
    // Without a graphics card a turning load is drawn so often that it still moves smoothly, and no more.
    const double next_s = frames_due_ > 0 ? 0
                          : desk_.lively()
                              ? (painter_.slow() ? slow_frame_s - (system_.now() - drawn_at_) : 0)
                          : film_ ? film_patience_s
                                  : desk_.patience_s();
    const std::vector<Event> events = system_.wait(std::max(0.0, next_s));
    const std::uint64_t scene = desk_.scene_number();
    for (const Event& event : events) {
        take(event);
        if (desk_.ended()) return false;
    }
    const bool wished = desk_.has_wishes();
    const bool moved = desk_.lively(), worked = desk_.works(), noticed = desk_.notice().has_value();
    const Dialog dialog = desk_.dialog();
    desk_.tick(system_.now());
    if (desk_.ended()) return false;
    go_on_with_film();
    const bool changed = scene != desk_.scene_number() || (moved && !desk_.lively()) ||
                         worked != desk_.works() || noticed != desk_.notice().has_value() ||
                         dialog != desk_.dialog();
    if (!events.empty() || wished || changed || ui_.has_events_waiting()) {
        frames_due_ = frames_to_rest;
    } else if (worked || film_) {
        // Only how far the work is has changed.
        frames_due_ = std::max(frames_due_, 1);
    }
    if (frames_due_ > 0 || desk_.lively()) {
        frames_due_ = std::max(0, frames_due_ - 1);
        draw();
        if (desk_.has_wishes()) frames_due_ = frames_to_rest;
    }
    return true;
}

void Viewer::settle(int most) {
    for (int i = 0;
         i < most && (i == 0 || frames_due_ > 0 || desk_.works() || film_ || desk_.has_wishes());) {
        if (!step()) return;
        if (!film_) ++i;
    }
}

}  // namespace evenspit::viewer
