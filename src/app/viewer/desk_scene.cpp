// SPDX-License-Identifier: MIT
// What of the load is shown, and the scene that shows it.
#include <algorithm>
#include <optional>
#include <utility>

#include "analysis/strikes.h"
#include "app/viewer/desk.h"
#include "app/viewer/hands.h"

namespace evenspit::viewer {

const cook::CookMoment* Desk::moment() const {
    const auto& shown = cooking_.shown();
    return shown && !cook_is_stale() ? &cooking_.found()->moments[*shown] : nullptr;
}

const Analysis& Desk::analysis() const {
    const cook::CookMoment* const now = moment();
    return now != nullptr ? now->analysis : answers_.analysis();
}

const Assembly& Desk::analysed() const {
    const cook::CookMoment* const now = moment();
    return now != nullptr ? now->load : answers_.assembly();
}

void Desk::make_scene() {
    const cook::CookMoment* const at = moment();
    const Analysis& now = analysis();
    scene::Shown shown{
        .colouring = colouring_, .strikes = strikes(now.clearance, now.rod, walls_), .walls = walls_};
    if (at != nullptr) {
        shown.heat = at->heat;
        shown.coldest_k = cooking_.found()->coldest_k;
        shown.hottest_k = cooking_.found()->hottest_k;
    }
    // Things show where they are now, even while the answers are still those of before.
    scene_ = maker_.scene(at != nullptr ? at->load : session_->assembly(), now, shown);
    add_ghost();
    ++scene_number_;
}

const plan::PlanAnswer* Desk::previewed() const {
    if (tab_ != Tab::plan || !planning_.plan() || plan_is_stale()) return nullptr;
    const plan::PlanAnswer& answer = planning_.plan()->answers[planning_.shown()];
    const bool in_force =
        !answer.changed && same_arrangement(answer.arrangement, arrangement_of(session_->assembly()));
    return in_force ? nullptr : &answer;
}

const Analysis* Desk::compared() const {
    if (!has_answer()) return nullptr;
    if (const plan::PlanAnswer* answer = previewed()) return &answer->analysis;
    if (session_->pinned()) return &session_->pinned()->analysis;
    return moment() != nullptr ? &cooking_.found()->moments.front().analysis : nullptr;
}

void Desk::add_ghost() {
    std::optional<Assembly> ghost;
    if (const plan::PlanAnswer* answer = previewed()) {
        ghost = with_arrangement(load_of(*answer, session_->assembly()), answer->arrangement);
    } else if (const auto& pinned = session_->pinned();
               pinned && !same_arrangement(pinned->places, arrangement_of(session_->assembly()))) {
        ghost = with_arrangement(session_->assembly(), pinned->places);
    }
    if (!ghost) return;
    for (Piece& piece : maker_.ghost(*ghost)) scene_.pieces.push_back(std::move(piece));
}

SharedShape Desk::bone_beside(const std::vector<Thing>& tines, std::size_t item) const {
    SharedShape nearest;
    double least = 0;
    for (const Piece& piece : scene_.pieces) {
        if (piece.matter != Matter::bone || piece.thing != Thing{Thing::Kind::item, item}) continue;
        for (const Thing& thing : tines) {
            const auto [root, tip] = tine_line(session_->assembly(), thing);
            const Vec3 run = tip - root;
            for (const ShapeMesh::Corner& corner : piece.shape->corners) {
                const Vec3 at = piece.pose * Vec3(corner.at[0], corner.at[1], corner.at[2]);
                const double along = std::clamp((at - root).dot(run) / run.squaredNorm(), 0.0, 1.0);
                const double far = (at - root - along * run).norm();
                if (nearest && far >= least) continue;
                nearest = piece.shape;
                least = far;
            }
        }
    }
    return nearest;
}

}  // namespace evenspit::viewer
