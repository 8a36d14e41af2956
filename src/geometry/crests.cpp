// SPDX-License-Identifier: MIT
#include "geometry/crests.h"

namespace evenspit {
namespace {

constexpr double out_of_doubt = 1e-9;  // m; more than rounding makes of any radius or station
constexpr double least_shared = 1e-4;  // m; the narrowest share of what is wider is wider than doubt

/// Adds a point, further on than those before, to the least concave curve over them.
void add(std::vector<Vec2>& curve, const Vec2& point) {
    while (curve.size() > 1) {
        const Vec2 last = curve.back() - curve[curve.size() - 2];
        const Vec2 next = point - curve[curve.size() - 2];
        if (last.y() * next.x() > next.y() * last.x()) break;
        curve.pop_back();
    }
    curve.push_back(point);
}

/// The curve's height at a station within it. \param at the piece to begin with; there it ends
double height(const std::vector<Vec2>& curve, double x, std::size_t& at) {
    while (at + 1 < curve.size() && curve[at].x() < x) ++at;
    const Vec2 &a = curve[at - 1], &b = curve[at];
    return std::lerp(a.y(), b.y(), std::clamp((x - a.x()) / (b.x() - a.x()), 0.0, 1.0));
}

}  // namespace

double Crests::Crest::start_of(std::size_t share) const {
    if (share == shares) return to;
    const double part = static_cast<double>(share) / static_cast<double>(shares);
    switch (way) {
        case Shares::narrow_first:
            return from + (to - from) * part * part;
        case Shares::narrow_last:
            return to - (to - from) * (1 - part) * (1 - part);
        case Shares::even:
            break;
    }
    return from + (to - from) * part;
}

Crests::Crests(std::span<const double> planes, std::size_t vertices) : crests_(planes.size()) {
    // Of few vertices to a slab few bulge above its chord, and looking costs more than it saves.
    constexpr std::size_t few = 1000, of_many = 4, times_at_ends = 8;
    const std::size_t slabs = planes.size() - 1, usual = vertices < few * slabs ? 1 : of_many;
    std::size_t count = 0;
    for (std::size_t k = 0; k < slabs; ++k) {
        Crest& crest = crests_[k];
        const bool first = k == 0, last = k + 1 == slabs;
        crest.first = count;
        crest.shares = first || last ? usual * times_at_ends : usual;
        if (!(planes[k + 1] - planes[k] > least_shared)) crest.shares = 1;
        crest.way = first && last ? Shares::even
                    : first       ? Shares::narrow_first
                    : last        ? Shares::narrow_last
                                  : Shares::even;
        crest.from = planes[k];
        crest.to = planes[k + 1];
        crest.per_metre = static_cast<double>(crest.shares) / (crest.to - crest.from);
        count += crest.shares;
    }
    places_.resize(count);
    for (std::size_t k = 0; k < slabs; ++k) {
        for (std::size_t s = 0; s < crests_[k].shares; ++s) {
            Place& place = places_[crests_[k].first + s];
            place.start = crests_[k].start_of(s);
            place.end = crests_[k].start_of(s + 1);
        }
    }
}

void Crests::raise(std::size_t slab, double first_square, double last_square) {
    Crest& crest = crests_[slab];
    crest.grown = false;
    Place* const places = places_.data() + crest.first;
    curve_.clear();
    if (first_square >= 0) curve_.emplace_back(crest.from, std::sqrt(first_square));
    for (std::size_t s = 0; s < crest.shares; ++s) {
        if (places[s].square >= 0 && places[s].x > crest.from && places[s].x < crest.to)
            add(curve_, {places[s].x, std::sqrt(places[s].square)});
    }
    if (last_square >= 0) add(curve_, {crest.to, std::sqrt(last_square)});
    if (curve_.size() < 2) return;
    crest.known = true;
    // A share's ends are met but for rounding: the lower of both sides, which the curve is at an end of what
    // bends down.
    std::size_t at = 1;
    const auto level_at = [&](double x, bool first, bool last) {
        const double before = x - out_of_doubt, after = x + out_of_doubt;
        const bool known = (before >= curve_.front().x() || (first && first_square >= 0)) &&
                           (after <= curve_.back().x() || (last && last_square >= 0));
        if (!known) return -1.0;
        const double one = height(curve_, before, at);
        return std::min(one, height(curve_, after, at)) - out_of_doubt;
    };
    double level = level_at(crest.from, true, false), least = level;
    for (std::size_t s = 0; s < crest.shares; ++s) {
        const double next = level_at(places[s].end, false, s + 1 == crest.shares);
        const bool known = level >= 0 && next >= 0;
        places[s].level = known ? level : -1;
        places[s].rise = known ? (next - level) / (places[s].end - places[s].start) : 0;
        level = next;
        least = std::min(least, next);
    }
    crest.least = least > 0 ? least * least : -1;
}

}  // namespace evenspit
