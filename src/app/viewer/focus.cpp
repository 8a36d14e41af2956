// SPDX-License-Identifier: MIT
#include "app/viewer/focus.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace evenspit::viewer {
namespace {

bool takes_all_keys(Layer layer) {
    return layer == Layer::menu || layer == Layer::dialog;
}

}  // namespace

std::vector<FocusRing::Control> FocusRing::reachable() const {
    std::vector<Control> result;
    std::copy_if(there_.begin(), there_.end(), std::back_inserter(result), [&](const Control& control) {
        return takes_all_keys(top_) ? control.layer == top_ : !takes_all_keys(control.layer);
    });
    return result;
}

bool FocusRing::is_modal() const {
    return takes_all_keys(top_);
}

bool FocusRing::has_keys() const {
    return is_modal() || (by_keys_ && focused_ != 0);
}

std::optional<Area> FocusRing::place() const {
    for (const Control& control : coming_) {
        if (control.id == focused_) return control.area;
    }
    return std::nullopt;
}

FocusRing::Id FocusRing::first_of(const std::vector<Control>& all) {
    const auto asked =
        std::find_if(all.begin(), all.end(), [](const Control& control) { return control.asked; });
    return asked != all.end() ? asked->id : all.front().id;
}

void FocusRing::focus(Id id) {
    focused_ = id;
    by_keys_ = id != 0;
    let_go_ = false;
    moved_ = 2;
}

void FocusRing::begin_frame() {
    there_ = std::exchange(coming_, {});
    moved_ = std::max(0, moved_ - 1);
    Layer top = Layer::panels;
    for (const Control& control : there_) {
        if (takes_all_keys(control.layer)) top = std::max(top, control.layer);
    }
    if (top != top_) {
        const bool opens = takes_all_keys(top) && !takes_all_keys(top_);
        const bool closes = !takes_all_keys(top);
        if (opens) {
            before_ = focused_;
            by_keys_before_ = by_keys_;
        }
        top_ = top;
        if (closes) {
            focused_ = before_;
            by_keys_ = by_keys_before_;
        } else if (const auto all = reachable(); !all.empty()) {
            focus(first_of(all));
        }
    }
    // What is gone cannot keep the keys.
    const std::vector<Control> all = reachable();
    const bool there =
        std::any_of(all.begin(), all.end(), [&](const Control& c) { return c.id == focused_; });
    if (!there && is_modal() && !all.empty() && !let_go_) {
        focused_ = first_of(all);
    } else if (!there) {
        focused_ = 0;
        by_keys_ = false;
    }
}

void FocusRing::step(int by) {
    const std::vector<Control> all = reachable();
    if (all.empty()) return;
    const auto now =
        std::find_if(all.begin(), all.end(), [&](const Control& control) { return control.id == focused_; });
    const auto n = static_cast<std::ptrdiff_t>(all.size());
    const std::ptrdiff_t at = now == all.end() ? (by > 0 ? -1 : n) : now - all.begin();
    focus(all[static_cast<std::size_t>(((at + by) % n + n) % n)].id);
}

void FocusRing::go(Way way) {
    const std::vector<Control> all = reachable();
    const auto now =
        std::find_if(all.begin(), all.end(), [&](const Control& control) { return control.id == focused_; });
    if (now == all.end()) return step(1);
    const auto middle = [](const Area& a) { return std::pair(a.x + a.width / 2, a.y + a.height / 2); };
    const auto [x, y] = middle(now->area);
    const bool level = way == Way::left || way == Way::right;
    const double sign = way == Way::right || way == Way::down ? 1 : -1;
    const Control* best = nullptr;
    double nearest = 0;
    for (const Control& control : all) {
        const auto [ox, oy] = middle(control.area);
        const double along = sign * (level ? ox - x : oy - y), aside = std::abs(level ? oy - y : ox - x);
        if (control.id == now->id || along <= 1) continue;
        // What lies straight ahead comes before what lies aslant.
        const double far = along + 3 * aside;
        if (best != nullptr && far >= nearest) continue;
        best = &control;
        nearest = far;
    }
    if (best != nullptr) focus(best->id);
}

void FocusRing::swap() {
    if (is_modal()) return;
    if (has_keys()) return leave();
    step(1);
}

void FocusRing::leave() {
    if (is_modal()) return;
    focused_ = 0;
    by_keys_ = false;
}

void FocusRing::point(Id id) {
    focused_ = id;
    by_keys_ = false;
    let_go_ = id == 0;
}

}  // namespace evenspit::viewer
