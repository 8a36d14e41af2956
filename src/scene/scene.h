// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "analysis/analysis.h"
#include "analysis/strikes.h"
#include "load/thing.h"
#include "scene/shape_mesh.h"
#include "units/quantity.h"

namespace evenspit::scene {

/// Of forks' and counterweights' hubs, which load files do not tell.
inline constexpr double hub_radius_m = 0.013, hub_length_m = 0.016;
/// How far a plane is shown on each side of its middle.
inline constexpr double ground_reach_m = 0.7;

/// What a drawn piece is made of; the painter knows how each looks.
enum class Matter {
    skin,
    bone,
    hollow,
    stuffing,
    swung,
    rod,
    fork,
    weight,
    motor,
    support,
    wall,
    coal,
    ember,
    ground,
    envelope,
    strike,  ///< a stretch of the sweep that reaches into the cooker
    ghost    ///< a load as it might sit
};

/// What a body's colours tell, m: its distance from the rod, the room to the cooker's walls as it turns, and
/// the distance to the nearest tine.
enum class Colouring { none, radius, gap, cover };

/// A tine as a round pin; rod frame at turn 0, m.
struct TineLine {
    Vec3 root = Vec3::Zero(), tip = Vec3::UnitX();
    double radius_m = 0;
};

/// At how many stations the room to the walls is known.
inline constexpr std::size_t reach_stations = 128;

/// What the colours on a scene tell: a figure at each corner of some of its pieces, and at every place
/// within.
struct Field {
    std::string name;
    Dimension dimension = Dimension::number;
    double from = 0, to = 0;  ///< SI; what the first and the last colour stand for
    Colouring what = Colouring::radius;
    std::vector<Vec2> reach{};      ///< for the gap: see free_reach()
    std::vector<TineLine> tines{};  ///< for the distance to the nearest
};

/// One piece of the picture.
struct Piece {
    SharedShape shape;
    Pose pose = Pose::Identity();  ///< shape → rod frame if it turns, else → world
    Matter matter = Matter::rod;
    Thing thing;
    bool turns = false;  ///< with the rod
    bool faces_away =
        false;  ///< a cut wall: turned about its own vertical so that the open side looks to the eye
    /// The scene's field at each of the shape's corners, SI; null: in its own colours.
    std::shared_ptr<const std::vector<float>> values{};
};

/// A thing that strikes or is struck, and where.
struct Struck {
    Thing thing;
    double from_m = 0, to_m = 0;  ///< of the load: between these stations
    Vec3 at = Vec3::Zero();       ///< of a surface: round this place; world, m
};

struct Scene {
    std::vector<Piece> pieces;
    std::vector<Struck> struck{};
    std::vector<Vec3> corners;  ///< of rig, load and cooker: in view if these are; world, m
    std::optional<Field> field{};
    [[nodiscard]] Box3 around() const {
        Box3 box;
        for (const Vec3& corner : corners) box.extend(corner);
        return box;
    }
};

/// Turns an assembly into pieces. Keeps what is costly from one time to the next: bodies are made ready once,
/// moves only change poses.
class SceneMaker {
  public:
    /// \param most_triangles of a part of a body; above it a coarser copy is made
    explicit SceneMaker(std::size_t most_triangles = most_drawn_triangles)
        : most_triangles_(most_triangles) {}

    /// \param colouring what the skin's colours tell
    /// \param strikes what reaches into what, to be shown
    /// \param walls how near each surface comes to the axis, for the gap's colours; see axis_distance()
    Scene scene(const Assembly& assembly, const Analysis& analysis, Colouring colouring = Colouring::none,
                const std::vector<Strike>& strikes = {}, const std::vector<std::vector<Vec2>>& walls = {});
    /// What turns of a load as it might sit, to be seen through: skins, forks and counterweights.
    std::vector<Piece> ghost(const Assembly& assembly);

  private:
    struct DrawnBody {
        std::weak_ptr<const body::PreparedBody> body;
        std::vector<Piece> pieces;
    };
    struct DrawnSurface {
        SurfaceShape shape;
        std::vector<Piece> pieces;
    };
    const std::vector<Piece>& pieces_of(const std::shared_ptr<const body::PreparedBody>& body);
    const std::vector<Piece>& pieces_of(const CookerSurface& surface, std::size_t index);

    std::size_t most_triangles_;
    std::map<const body::PreparedBody*, DrawnBody> bodies_;
    std::vector<DrawnSurface> surfaces_;
};

/// Rod frame → world at a turn angle.
Pose turned_rod(double turn_rad);

}  // namespace evenspit::scene
