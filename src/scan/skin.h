// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "geometry/mesh.h"
#include "geometry/solid_check.h"
#include "scan/bird_overlay.h"
#include "scan/guessed_ground.h"
#include "scan/one_pass.h"
#include "scan/resting.h"
#include "scan/scan_note.h"
#include "scan/scan_progress.h"
#include "scan/scan_report.h"
#include "scan/scan_settings.h"
#include "scan/sheet.h"

namespace evenspit::scan {

/// How the side on the board was closed.
struct ClosedSide {
    std::string name;          ///< "round", "bird", "smooth", "flat"; empty: it was not
    double area_m2 = 0;        ///< of it
    double guess_error_m = 0;  ///< how far what was followed there lies from what was seen beside it
    GuessedGround ground;      ///< where a guess was followed, frame of the scan
    Resting resting;           ///< what was seen of how the body comes down to the board
};

/// A sheet whose side on the board is closed.
struct ClosedSheet {
    Sheet sheet;
    ClosedSide underside;
};

/// The bird that is laid over a scan, if one was looked for.
struct LookedForBird {
    std::optional<BirdOverlay> bird;   ///< absent: it is none
    std::optional<BirdOverlay> maybe;  ///< it is none, but nearly as well it may be this
    bool doubtful = false;             ///< a bird and a body without a name may both be right
    double error_m = 0;                ///< of the nearest bird; 0 if none was tried
    double round_error_m = 0;          ///< of the nearest body without a name, likewise
};

/// What an open question leaves unknown of a body: volume and centre are off together, σ.
struct OpenQuestion {
    double volume_m3 = 0;
    Vec3 centre_m = Vec3::Zero();
};

/// The closed skin of a body, and what is known of how it came about. Metres, frame of the (first) scan.
struct Skin {
    TriangleMesh mesh;            ///< closed, outward
    std::vector<double> support;  ///< per vertex 0 (nothing was seen there) … 1
    ScanScale scale;
    LookedForBird looked;
    bool came_closed = false;    ///< kept as it came
    bool closed_by_app = false;  ///< and closed anew where no camera looked
    bool one_side_only = true;   ///< all that was seen was seen as the body lay on one side
    ClosedSide underside;
    std::optional<RegistrationReport> registration;
    double apart_m = 0;  ///< σ of how far off several scans are together, in one piece
    int pieces_dropped = 0;
    std::size_t self_intersections = 0;
    double offset_before_m = 0, offset_after_m = 0;  ///< as in ScanReport
    std::vector<OpenQuestion> questions;
    std::vector<ScanNote> notes;
};

/// Lays a bird over the sheet, unless the body is known to be none.
LookedForBird look_for_bird(const Sheet& sheet, const std::optional<Board>& board,
                            const ScanSettings& settings, const ScanProgress& progress);

/// Closes the side on the board, if there is one.
///
/// \param surface seen of the body that lies on the pass's board, in the frame of the pass
/// \param bird a guess at the body; null: none
ClosedSheet with_underside(const ScannedSurface& surface, const ScanScale& scale, const Pass& pass,
                           const BirdOverlay* bird, const StopControl& control);

/// Wraps a sheet.
///
/// \param dropped number of pieces left out
/// \throws InputError naming `file` if it encloses nothing
TriangleMesh wrapped(const Sheet& sheet, double spacing, int& dropped, const std::string& file,
                     const StopControl& control);

/// Wraps a sheet and settles the wrap on the points: fills the mesh, its support and what is told of them.
void close_skin(Skin& skin, const Sheet& sheet, const ScannedSurface& surface, const std::string& file,
                const ScanProgress& progress);

/// The skin of a single scan.
Skin skin_of(const Pass& pass, const ScanSettings& settings, const ScanProgress& progress);

/// What the gates say of a scan that is a surface without a rim, on no board: it may touch or cut itself, or
/// be of several pieces. Absent for all others.
std::optional<SolidReport> without_rim(const RawScan& raw, const Pass& pass);

/// Whether such a scan is one piece, closed, that can be kept as it came.
bool came_closed(const RawScan& raw, const SolidReport& report, const StopControl& control);

/// The skin of such a scan: itself.
Skin as_it_came(const RawScan& raw, const Pass& pass, const ScanSettings& settings,
                const ScanProgress& progress);

/// The skin of such a scan of which the program that made it closed a part: that part closed anew. Absent if
/// there is none, or if the file tells how far its centre may be off: then it was made here.
std::optional<Skin> closed_anew(const RawScan& raw, const Pass& pass, const ScanSettings& settings,
                                const ScanProgress& progress);

/// The skin of a scan that is a smooth surface but for a few small holes, on no board: itself, its holes
/// filled. Absent for all others.
std::optional<Skin> with_holes_filled(const RawScan& raw, const Pass& pass, const ScanSettings& settings,
                                      const ScanProgress& progress);

}  // namespace evenspit::scan
