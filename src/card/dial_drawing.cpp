// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include <fmt/format.h>

#include "analysis/placed.h"
#include "card/drawing.h"
#include "card/drawn_parts.h"
#include "load/thing.h"
#include "report/mount_words.h"
#include "report/subject_words.h"
#include "report/text_layout.h"
#include "units/dial.h"
#include "units/listed.h"
#include "units/tell.h"

namespace evenspit::card {
namespace {

/// On the face, y upward, for a clock angle.
Vec2 direction(double clock_rad) {
    return {std::cos(clock_rad), std::sin(clock_rad)};
}

/// What sits at one place of the face.
struct Spot {
    Vec2 at_m;
    std::string label;
};

class DialDrawing {
  public:
    DialDrawing(const DrawnLoad& drawn, const DrawingRoom& room)
        : drawn_(drawn), load_(drawn.load), room_(room) {
        sheet_.width_pt = sheet_.height_pt = room.width_pt;
    }

    Sheet drawn() {
        const double letter = room_.letter_pt;
        ring_pt_ = room_.width_pt / 2 - 2.3 * letter;
        scale_ = {{room_.width_pt / 2, room_.width_pt / 2}, ring_pt_ / reach_m(drawn_)};
        const Frame inside{0, 0, room_.width_pt, room_.width_pt};
        draw_cooker(sheet_, load_.cooker, LookedAt::from_point, middle_m(), scale_, inside);
        face();
        for (const Outlines& item : drawn_.from_point) {
            SheetPath path{{}, true, meat_grey, Stroke{1.2, 0}};
            for (const std::vector<Vec2>& ring : item) {
                path.rings.emplace_back();
                for (const Vec2& p : ring) path.rings.back().push_back(scale_(p));
            }
            if (!path.rings.empty()) sheet_.shapes.emplace_back(std::move(path));
        }
        weights();
        rod();
        tines();
        return std::move(sheet_);
    }

  private:
    /// Where the cooker is cut: through the middle of what is roasted.
    [[nodiscard]] double middle_m() const {
        if (load_.items.empty()) return load_.rod.length_m / 2;
        double from = load_.rod.length_m, to = 0;
        for (const Item& item : load_.items) {
            const auto [a, b] = stretch_on_rod(item);
            from = std::min(from, a);
            to = std::max(to, b);
        }
        return (from + to) / 2;
    }

    void face() {
        const double letter = room_.letter_pt;
        const Vec2 middle = scale_(Vec2::Zero());
        // White behind the hours, so that no wall runs through them.
        for (int hour = 1; hour <= 12; ++hour) {
            const double clock = (3 - hour) * std::numbers::pi / 6;
            const Vec2 out(direction(clock).x(), -direction(clock).y());
            const bool quarter = hour % 3 == 0;
            const double size = quarter ? 1.15 * letter : 0.85 * letter;
            const Vec2 at = middle + (ring_pt_ + 1.15 * letter) * out;
            const std::string name = std::to_string(hour);
            const double width = room_.measure(name, size, quarter);
            sheet_.rectangle({at.x() - width / 2 - 1, at.y() - 0.5 * size, width + 2, size}, 1.0,
                             std::nullopt);
            taken_.push_back(sheet_.text(room_.measure, at + Vec2(0, 0.36 * size), 0.5, name, size, quarter,
                                         quarter ? 0 : 0.2));
            sheet_.line(middle + (ring_pt_ - (quarter ? 0.8 : 0.4) * letter) * out, middle + ring_pt_ * out,
                        {quarter ? 1.2 : 0.7, 0});
        }
        sheet_.circle(middle, ring_pt_, std::nullopt, Stroke{0.8, 0});
    }

    void rod() {
        const double half = std::max(load_.rod.width_m / 2, 1.2 / scale_.pt_per_m);
        const Vec2 a = scale_({-half, half}), b = scale_({half, -half});
        if (load_.rod.section == Section::square) {
            sheet_.rectangle({a.x(), a.y(), b.x() - a.x(), b.y() - a.y()}, 1.0, Stroke{1, 0});
        } else {
            sheet_.circle(scale_(Vec2::Zero()), half * scale_.pt_per_m, 1.0, Stroke{1, 0});
        }
        taken_.push_back({a.x(), a.y(), b.x() - a.x(), b.y() - a.y()});
    }

    void weights() {
        for (std::size_t c = 0; c < load_.counterweights.size(); ++c) {
            const Counterweight& weight = load_.counterweights[c];
            const Vec2 at = scale_(weight.radius_m * direction(weight.clock_rad));
            sheet_.line(scale_(Vec2::Zero()), at, {1.2, 0.2});
            sheet_.circle(at, weight.diameter_m / 2 * scale_.pt_per_m, 0.6, Stroke{1, 0});
            label(at, weight.diameter_m / 2 * scale_.pt_per_m, fmt::format("W{}", c + 1));
        }
    }

    void basket(const Fork& basket) {
        const Cage& cage = basket.cage;
        if (cage.round) {
            sheet_.circle(scale_(Vec2::Zero()), cage.width_m / 2 * scale_.pt_per_m, std::nullopt,
                          Stroke{1, 0.3});
            return;
        }
        const Vec2 up = direction(basket.clock_rad),
                   across = direction(basket.clock_rad + std::numbers::pi / 2);
        const Vec2 high = cage.height_m / 2 * up, wide = cage.width_m / 2 * across;
        const std::array<Vec2, 4> corners{high + wide, high - wide, -high - wide, -high + wide};
        for (std::size_t k = 0; k < corners.size(); ++k)
            sheet_.line(scale_(corners[k]), scale_(corners[(k + 1) % corners.size()]), {1, 0.3});
    }

    /// A bracket's legs, from beside the rod to their ends.
    void legs(std::size_t f) {
        const Fork& bracket = load_.forks[f];
        for (const Tine& leg : bracket.tines) {
            const Vec2 out = direction(tine_clock(bracket, leg));
            const Vec2 root = leg.radius_m * direction(tine_clock(bracket, leg) + std::numbers::pi / 2);
            sheet_.line(scale_(root), scale_(root + leg.length_m * out),
                        {std::max(1.2, leg.diameter_m * scale_.pt_per_m), 0.2});
            // No letters over it.
            constexpr int pieces = 12;
            const double half = std::max(1.2, leg.diameter_m * scale_.pt_per_m) / 2;
            for (int k = 0; k <= pieces; ++k) {
                const Vec2 at = scale_(root + k * leg.length_m / pieces * out);
                taken_.push_back({at.x() - half, at.y() - half, 2 * half, 2 * half});
            }
        }
        const Tine& first = bracket.tines.front();
        label(scale_(0.8 * first.length_m * direction(tine_clock(bracket, first))), 2,
              fmt::format("B{}", fork_section(load_.forks, f).number));
    }

    /// Tines of several forks may stand one behind the other.
    void tines() {
        std::vector<Spot> spots;
        for (std::size_t f = 0; f < load_.forks.size(); ++f) {
            if (load_.forks[f].kind == ForkKind::bracket) {
                legs(f);
                continue;
            }
            if (load_.forks[f].kind == ForkKind::basket) basket(load_.forks[f]);
            for (const Tine& tine : load_.forks[f].tines) {
                const Vec2 at = tine.radius_m * direction(tine_clock(load_.forks[f], tine));
                const double same_pt = 0.45 * room_.letter_pt;
                const auto there = std::find_if(spots.begin(), spots.end(), [&](const Spot& spot) {
                    return (spot.at_m - at).norm() * scale_.pt_per_m < same_pt;
                });
                if (there == spots.end()) {
                    spots.push_back({at, std::to_string(f + 1)});
                } else {
                    there->label += fmt::format(",{}", f + 1);
                }
            }
        }
        const double dot_pt = 0.24 * room_.letter_pt;
        for (const Spot& spot : spots) {
            const Vec2 at = scale_(spot.at_m);
            sheet_.circle(at, dot_pt, 0.0, std::nullopt);
            taken_.push_back({at.x() - dot_pt, at.y() - dot_pt, 2 * dot_pt, 2 * dot_pt});
        }
        for (const Spot& spot : spots) label(scale_(spot.at_m), dot_pt, spot.label);
    }

    /// A word beside a place, where no other stands.
    void label(const Vec2& at, double radius, const std::string& words) {
        const double size = room_.letter_pt;
        const double width = room_.measure(words, size, true), away = radius + 2;
        for (const double further : {0.0, 0.8 * size, 1.7 * size}) {
            const double d = away + further;
            for (const Vec2& way : {Vec2(d + width / 2, 0), Vec2(-d - width / 2, 0), Vec2(0, -d - 0.4 * size),
                                    Vec2(0, d + 0.4 * size)}) {
                const Vec2 middle = at + way;
                const Frame room{middle.x() - width / 2, middle.y() + (0.36 - above_line) * size, width,
                                 (above_line + below_line) * size};
                const bool off = room.x < 0 || room.y < 0 || room.right() > sheet_.width_pt ||
                                 room.bottom() > sheet_.height_pt;
                if (off || std::any_of(taken_.begin(), taken_.end(),
                                       [&](const Frame& t) { return t.overlaps(room); }))
                    continue;
                taken_.push_back(
                    sheet_.text(room_.measure, middle + Vec2(0, 0.36 * size), 0.5, words, size, true));
                return;
            }
        }
    }

    const DrawnLoad& drawn_;
    const Assembly& load_;
    const DrawingRoom& room_;
    Sheet sheet_;
    Scale scale_;
    double ring_pt_ = 0;
    std::vector<Frame> taken_;
};

}  // namespace

Sheet dial_drawing(const DrawnLoad& drawn, const DrawingRoom& room) {
    return DialDrawing(drawn, room).drawn();
}

std::vector<std::string> dial_words(const Assembly& load, UnitSystem units) {
    std::vector<std::string> words;
    for (std::size_t i = 0; i < load.items.size(); ++i) {
        const Vec3 up = load.items[i].pose.linear() * Vec3::UnitZ();
        words.push_back(
            printable(fmt::format("{}: {} at {}", item_name(load, i), load.items[i].bird ? "breast" : "top",
                                  dial_text(std::atan2(up.z(), up.y()), DialSteps::minutes))));
    }
    // Forks alike are told together.
    std::vector<std::pair<std::string, std::vector<std::string>>> forks;
    for (std::size_t f = 0; f < load.forks.size(); ++f) {
        if (load.forks[f].kind != ForkKind::fork) continue;
        const std::string tines = tines_text(load.forks[f]);
        const auto alike =
            std::find_if(forks.begin(), forks.end(), [&](const auto& one) { return one.first == tines; });
        if (alike == forks.end()) {
            forks.push_back({tines, {std::to_string(f + 1)}});
        } else {
            alike->second.push_back(std::to_string(f + 1));
        }
    }
    for (const auto& [tines, numbers] : forks) {
        words.push_back(fmt::format("{} {}: tines at {}", numbers.size() == 1 ? "fork" : "forks",
                                    listed(numbers, "and"), tines));
    }
    for (std::size_t f = 0; f < load.forks.size(); ++f) {
        if (load.forks[f].kind != ForkKind::bracket) continue;
        words.push_back(fmt::format("B{}: {}, legs out at {}", fork_section(load.forks, f).number,
                                    fork_name(load.forks, f),
                                    dial_text(load.forks[f].clock_rad, DialSteps::minutes)));
    }
    for (std::size_t c = 0; c < load.counterweights.size(); ++c) {
        const Counterweight& weight = load.counterweights[c];
        words.push_back(fmt::format("W{}: weight {}, {} out, at {}", c + 1, c + 1,
                                    length_text(weight.radius_m, units),
                                    dial_and_clock_text(weight.clock_rad, DialSteps::minutes)));
    }
    return words;
}

}  // namespace evenspit::card
