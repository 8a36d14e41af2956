// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "analysis/analysis.h"
#include "analysis/strikes.h"
#include "load/thing.h"
#include "roast/heat_cells.h"
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

/// What a body's colours tell: its distance from the rod, the room to the cooker's walls as it turns, and the
/// distance to the nearest tine, m; its temperature, K; the heat that its skin took up, as a share of the
/// mean.
enum class Colouring { none, radius, gap, cover, temperature, heat };

/// A tine as a round pin; rod frame at turn 0, m.
struct TineLine {
    Vec3 root = Vec3::Zero(), tip = Vec3::UnitX();
    double radius_m = 0;
};

/// At how many stations the room to the walls is known.
inline constexpr std::size_t reach_stations = 128;

/// The heat in an item, and the way to it: rod frame at turn 0 → item frame.
struct ItemHeat {
    Pose to_item = Pose::Identity();
    std::shared_ptr<const HeatCells> cells{};
};

/// What the colours on a scene tell: a figure at each corner of some of its pieces, and at every place
/// within.
struct Field {
    std::string name;
    Dimension dimension = Dimension::number;
    /// SI; what the first and the last colour stand for. Where they differ before the skin is coloured, they
    /// stay: one scale for many moments.
    double from = 0, to = 0;
    Colouring what = Colouring::radius;
    std::vector<Vec2> reach{};      ///< for the gap: see free_reach()
    std::vector<TineLine> tines{};  ///< for the distance to the nearest
    std::vector<ItemHeat> heat{};   ///< by item, for temperatures
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
    /// A plane wall: its free side, world; it is drawn only to an eye on that side, so that no wall hides
    /// what is behind it. Zero: it is always drawn.
    Vec3 free_side = Vec3::Zero();
    double free_from_m = 0;  ///< of such a wall: free_side · x of its places
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
    std::vector<ItemHeat> heat{};  ///< by item: how done it is, whatever the colours tell; empty: raw
    [[nodiscard]] Box3 around() const {
        Box3 box;
        for (const Vec3& corner : corners) box.extend(corner);
        return box;
    }
};

/// What is to be seen of a load beside itself.
struct Shown {
    Colouring colouring = Colouring::none;
    std::vector<Strike> strikes{};           ///< what reaches into what
    std::vector<std::vector<Vec2>> walls{};  ///< how near each surface comes to the axis, for the gap's
                                             ///< colours; see axis_distance()
    /// By item, for the colours of temperature and heat and of cut flesh; empty: nothing is known of it.
    std::vector<std::shared_ptr<const HeatCells>> heat{};
    double coldest_k = 0, hottest_k = 0;  ///< what temperatures' colours range over
};

/// Turns an assembly into pieces. Keeps what is costly from one time to the next: bodies are made ready once,
/// moves only change poses.
class SceneMaker {
  public:
    /// \param most_triangles of a part of a body; above it a coarser copy is made
    explicit SceneMaker(std::size_t most_triangles = most_drawn_triangles)
        : most_triangles_(most_triangles) {}

    /// Items with a Matter of their own are drawn as small as that has left them.
    Scene scene(const Assembly& assembly, const Analysis& analysis, const Shown& shown = {});
    /// What turns of a load as it might sit, to be seen through: skins, forks and counterweights.
    std::vector<Piece> ghost(const Assembly& assembly);

  private:
    struct DrawnBody {
        std::weak_ptr<const body::PreparedBody> body;
        std::vector<Piece> pieces;
        std::vector<std::uint32_t> corner_of;  // by vertex of the first part
        // Its skin as it was drawn last.
        std::shared_ptr<const body::FleshField> flesh{};
        std::shared_ptr<const HeatCells> heat{};
        SharedShape moved_in{};
    };
    struct DrawnSurface {
        SurfaceShape shape;
        std::vector<Vec3> face{};  ///< of a plane, what is left of it between the others
        std::vector<Piece> pieces;
    };
    DrawnBody& drawn(const std::shared_ptr<const body::PreparedBody>& body);
    void colour(Scene& scene, const Assembly& assembly, const Analysis& analysis, const Shown& shown);
    /// \param heat null: not known
    void add_item(Scene& scene, const Item& item, std::size_t index,
                  const std::shared_ptr<const HeatCells>& heat);
    const std::vector<Piece>& pieces_of(const Cooker& cooker, std::size_t index);

    std::size_t most_triangles_;
    std::map<const body::PreparedBody*, DrawnBody> bodies_;
    std::vector<DrawnSurface> surfaces_;
};

/// Rod frame → world at a turn angle.
Pose turned_rod(double turn_rad);

}  // namespace evenspit::scene
