// SPDX-License-Identifier: MIT
#include "plan/corridor.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "analysis/limits.h"

namespace evenspit::plan {
namespace {

/// How far meat gives way where the rod runs along a wall of it. Common practice.
constexpr double give_m = 0.003;
/// Places on the line that are looked at are so far apart.
constexpr double step_m = 0.001;
/// Room beyond this is not told apart.
constexpr double most_slack_m = 0.010;
constexpr double rounding_m = 1e-12;
/// Bone that is met for less is grazed.
constexpr double graze_m = limits::bone_care_m;

/// A stretch of a line, with places a millimetre apart.
struct Stretch {
    Vec3 start, along;  // item frame; of unit length
    double from = 0, to = 0;
    double ahead = 0;  // of the start lies what stretches count from

    [[nodiscard]] double count() const { return std::max(1.0, std::ceil((to - from) / step_m)); }
    [[nodiscard]] Vec3 place(double k) const {
        const double step = (to - from) / count();
        return start + (from + k * step - ahead) * along;
    }
    /// The place that lies next to a point.
    [[nodiscard]] double next_to(const Vec3& point) const {
        const double at = ((point - start).dot(along) + ahead - from) / (to - from);
        return std::round(std::clamp(at, 0.0, 1.0) * count());
    }
};

/// The least of a function of place that changes no faster than its argument, at the places of a stretch.
/// Those that cannot be lower than one seen already are passed over, so that the answer does not depend on
/// where one looks first.
template <class Function>
LinePassage least(const Function& f, const Stretch& stretch, LinePassage best, const PassageLook& look) {
    const double count = stretch.count(), step = (stretch.to - stretch.from) / count;
    if (look.known != nullptr) {
        LinePassage refused;
        const auto refuses = [&](const TightPlaces::Place& known) {
            const double k = stretch.next_to(known.at);
            refused = {known.slack_m + (stretch.place(k) - known.at).norm(), known.limit, k / count};
            return refused.slack_m < look.enough_m - rounding_m;
        };
        if (look.known->find(refuses) != nullptr) return refused;
    }
    TightPlaces::Place tightest{.at = stretch.start, .slack_m = best.slack_m};
    const auto slack_at = [&](double k) {
        const Vec3 place = stretch.place(k);
        LinePassage here = f(place);
        here.at = k / count;
        if (here.slack_m < best.slack_m) {
            best = here;
            tightest = {place, here.slack_m, here.limit};
        }
        return here.slack_m;
    };
    const auto search = [&] {
        // A good bound early saves steps.
        for (const double t : {look.first_at, 0.0, 0.25, 0.5, 0.75, 1.0}) {
            slack_at(std::round(t * count));
            if (best.slack_m < look.enough_m) return;
        }
        for (double k = 0; k <= count && best.slack_m >= look.enough_m;)
            k += 1 + std::floor((slack_at(k) - best.slack_m) / step);
    };
    const double before = best.slack_m;
    search();
    if (look.known != nullptr && best.slack_m < before) look.known->add(tightest);
    return best;
}

constexpr LinePassage open{.slack_m = std::numeric_limits<double>::infinity()};

void take_nearer(LinePassage& nearest, double slack_m, RodLimit limit) {
    if (slack_m < nearest.slack_m) nearest = {.slack_m = slack_m, .limit = limit};
}

/// Distance beyond what is needed, at most most_slack_m.
double room(const SolidQueries& surface, const Vec3& p, double needed_m) {
    return surface.closest(p, needed_m + most_slack_m).distance - needed_m;
}

}  // namespace

void TightPlaces::add(const Place& place) {
    if (places_.size() < most) {
        places_.push_back(place);
        return;
    }
    // The latter half is what refuses least.
    places_[most / 2 + next_] = place;
    next_ = (next_ + 1) % (most / 2);
}

Corridor::Corridor(std::shared_ptr<const body::JoinedParts> parts, double rod_radius_m)
    : parts_(std::move(parts)), rod_radius_m_(rod_radius_m) {}

LinePassage Corridor::passage(const RodLine& line, const PassageLook& look) const {
    const Box3& box = parts_->body().bounds;
    const Vec3 a(box.min().x(), line.from.x(), line.from.y());
    const Vec3 b(box.max().x(), line.to.x(), line.to.y());
    return parts_->open_cavity() ? through_cavity(a, b, look) : through_flesh(a, b, look);
}

double Corridor::slack_at(const Vec3& place) const {
    return passage_at(place).slack_m;
}

LinePassage Corridor::passage_at(const Vec3& place) const {
    LinePassage here{.slack_m = room(parts_->flesh(), place, rod_radius_m_ + limits::rod_cover_m),
                     .limit = RodLimit::cover};
    if (parts_->open_cavity()) {
        here = {.slack_m = room(parts_->firm(), place, rod_radius_m_ - give_m), .limit = RodLimit::wall};
    }
    if (parts_->bone() != nullptr) {
        take_nearer(here, room(*parts_->bone(), place, rod_radius_m_), RodLimit::bone);
    }
    return here;
}

RodLine Corridor::middle() const {
    if (parts_->open_cavity()) return {};
    const Vec2 centre = parts_->body().mass.centre.tail<2>();
    return {centre, centre};
}

LinePassage Corridor::through_cavity(const Vec3& a, const Vec3& b, const PassageLook& look) const {
    const Vec3 along = (b - a).normalized();
    const double length = (b - a).norm();
    const SolidQueries* const bone = parts_->bone();

    LinePassage nearest = open;
    // What lies off the cavity altogether is no way, however free.
    const Vec3 middle = a + (b - a) * ((parts_->cavity_box().center().x() - a.x()) / (b.x() - a.x()));
    if (!parts_->hollow()->contains(middle)) {
        take_nearer(nearest, -limits::entry_stretch_m - parts_->hollow()->closest(middle).distance,
                    RodLimit::beside);
    }
    for (const Interval& run : parts_->flesh().inside(a, b)) {
        const Vec3 deep = a + along * (run.from + run.to) / 2;
        if (parts_->pierceable(parts_->flesh().closest(deep).triangle)) continue;
        const double depth = std::min(run.length() / 2, parts_->firm().closest(deep).distance);
        take_nearer(nearest, -(rod_radius_m_ - give_m) - depth, RodLimit::wall);
    }
    if (bone != nullptr) {
        const double in_bone = total_length(bone->inside(a, b));
        if (in_bone > graze_m) take_nearer(nearest, -rod_radius_m_ - in_bone / 2, RodLimit::bone);
    }
    if (nearest.slack_m < 0) return nearest;
    return least([this](const Vec3& place) { return passage_at(place); }, {a, along, 0, length}, nearest,
                 look);
}

LinePassage Corridor::through_flesh(const Vec3& a, const Vec3& b, const PassageLook& look) const {
    const Vec3 along = (b - a).normalized();
    const SolidQueries& flesh = parts_->flesh();
    const SolidQueries* const bone = parts_->bone();

    const std::vector<Interval> runs = flesh.inside(a - 0.01 * along, b + 0.01 * along);
    if (runs.empty()) {
        return {.slack_m = -limits::entry_stretch_m - flesh.closest((a + b) / 2).distance,
                .limit = RodLimit::beside};
    }
    const Interval run =
        *std::max_element(runs.begin(), runs.end(),
                          [](const Interval& p, const Interval& q) { return p.length() < q.length(); });
    LinePassage nearest = open;
    if (bone != nullptr) {
        const double in_bone = total_length(bone->inside(a, b));
        if (in_bone > graze_m) take_nearer(nearest, -rod_radius_m_ - in_bone / 2, RodLimit::bone);
    }
    const double entry = std::min(limits::entry_stretch_m, run.length() / 4);
    return least([this](const Vec3& place) { return passage_at(place); },
                 {a, along, run.from + entry, run.to - entry, 0.01}, nearest, look);
}

}  // namespace evenspit::plan
