// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "report/picture.h"
#include "report/reader_units.h"

namespace evenspit {

struct Tick {
    double at = 0;  ///< as the axis counts
    std::string text;
};

/// Ticks at whole multiples of 1, 2 or 5 times a power of ten of the unit, about as many as there are pieces
/// to be, and two at least; the texts tell multiples of the unit. No two texts are alike; none where the
/// range is too small for numbers to differ, is empty or is not finite.
std::vector<Tick> nice_ticks(double from, double to, double unit, int pieces);

struct Axis {
    double from = 0, to = 1;
    std::vector<Tick> ticks;
    bool downward = false;  ///< an upright axis that grows downward

    void extend(double value);
    [[nodiscard]] double size() const { return to - from; }
    void tick(const AxisUnit& unit, int pieces) { ticks = nice_ticks(from, to, unit.si, pieces); }
};

/// A line through points (x, y); what is not finite is a gap.
struct Series {
    std::string name;
    std::vector<Vec2> points;
    Role role = Role::now;
    double width = 2.2;
    bool dashed = false;
};

/// A convex area in the chart's measures.
struct Fill {
    std::vector<Vec2> corners;
    Role role = Role::now;
    double opacity = 0.2;
    bool joined = false;  ///< see PicturePolygon
};

/// A value of y not to be passed, drawn as dashes all across.
struct Limit {
    double at = 0;
    std::string label;
    Role role = Role::care;
};

enum class MarkShape { none, dot, large_dot, support };

/// A place with a word beside it.
struct Mark {
    Vec2 at = Vec2::Zero();
    std::string text;  ///< may be empty
    Role role = Role::strong;
    MarkShape shape = MarkShape::none;
    bool upright = false;  ///< with a line from bottom to top through it
    double anchor = 0;     ///< the word stands 0 to the right of it, 0.5 over or under it, 1 to the left
    bool under = false;    ///< rather under it than over it
};

/// A chart as a value, in SI or whatever its axes count; lay_out() makes a picture of it.
struct Chart {
    std::string title;
    std::string remark;          ///< beside the title at the right: units, above all
    std::string short_remark{};  ///< in its place where it has no room; may be empty
    Axis x, y;
    std::vector<Fill> fills;
    std::vector<Series> series;
    std::vector<Limit> limits;
    std::vector<Mark> marks;  ///< the first get the better room for their words

    [[nodiscard]] const Series* find(std::string_view name) const;
};

/// What a line is at x, straight between its points; nothing where it has a gap or does not reach. Where it
/// runs upright, the first of its points there.
std::optional<double> value_at(const Series& series, double x);

enum class Filling { solid, hatched, hollow };

struct BarPiece {
    double length = 0;
    Filling filling = Filling::solid;
};

struct Bar {
    std::string name;
    double length = 0;             ///< of its frame
    std::vector<BarPiece> pieces;  ///< end to end from its start
    std::string word;              ///< behind it
    Role role = Role::plain;       ///< of the word: Role::care is what a reader must see first
};

struct BarGroup {
    std::string name;
    std::string note;
    std::vector<Bar> bars;
};

/// Bars in groups, each a line of its own, or a line for a group where room is scarce.
struct BarChart {
    std::string title;
    std::string note_lead;  ///< before a group's note where there is room: "holds "
    std::string key;        ///< what the fillings mean
    std::string nothing;    ///< what to say where there is no bar
    std::vector<BarGroup> groups;
};

/// The part of a chart's frame that its lines are drawn in, as lay_out() has it.
Frame plot_of(const Frame& frame, double scale = 1);

/// What an axis counts at a share of its length, 0 at its beginning, 1 at its end.
inline double at_share(const Axis& axis, double share) {
    return axis.from + share * axis.size();
}

/// The chart as it is drawn in a frame. Words never lie over one another: each moves to where there is room,
/// and is left out where there is none.
///
/// \param scale pixels per point: of lines, margins and marks
Picture lay_out(const Chart& chart, const Frame& frame, const MeasureLetters& letters, double scale = 1);
Picture lay_out(const BarChart& chart, const Frame& frame, const MeasureLetters& letters, double scale = 1);

}  // namespace evenspit
