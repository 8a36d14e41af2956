// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/viewer/answers.h"
#include "app/viewer/camera.h"
#include "app/viewer/hands.h"
#include "app/viewer/scene.h"
#include "app/viewer/session.h"
#include "app/viewer/storage.h"
#include "app/viewer/turn_play.h"
#include "plan/plan.h"

namespace evenspit::viewer {

// What panels, keys and the pointer may ask for. Wishes are gathered while a frame is drawn and granted at
// one point after it.
struct DoEdit {
    Edit edit;
    std::string gesture;
};
struct EndGesture {};
struct Undo {};
struct Redo {};
struct Pin {};
struct Unpin {};
struct Select {
    Thing thing;
};
/// The next thing that can be moved, or the one before.
struct SelectNext {
    int by = 1;
};
struct Nudge {
    double along_m = 0, round_rad = 0;
    Vec2 line_m = Vec2::Zero();
};
struct LookAt {
    Vec3 place = Vec3::Zero();
};
struct LookFrom {
    StandardView view = StandardView::home;
};
struct FrameAll {};
struct Orbit {
    double azimuth_rad = 0, elevation_rad = 0;
};
struct Pan {
    double right_px = 0, up_px = 0;
};
struct Zoom {
    double notches = 0;
    Vec3 toward = Vec3::Zero();
};
struct SetTurn {
    double angle_rad = 0;
};
struct Play {
    bool on = false;
};
struct SetPace {
    double pace = 1;
};
struct OpenFile {
    std::filesystem::path file;
};
struct OpenDemo {};
struct DropFile {
    std::filesystem::path file;
};
struct CancelReading {};
struct Save {};
struct SaveAs {
    std::filesystem::path file;
    bool over = false;  ///< a file that is there may be written over
};
struct Reload {};
/// Ends the program, or asks about what is not saved.
struct Quit {};
struct ShowDialog {
    int dialog = 0;  ///< a Dialog
};
struct AnswerDialog {
    enum class Choice { cancel, save, discard, yes, no };
    Choice choice = Choice::cancel;
};
/// Seeks where rod, forks and counterweights had better be; see make_plan().
struct SeekPlan {};
struct CancelPlan {};
struct ShowAnswer {
    std::size_t index = 0;  ///< into Plan::answers
};
/// Puts everything where the shown answer has it.
struct TakeAnswer {};
struct ToggleSkin {};
struct ToggleEnvelope {};
struct ToggleCooker {};
struct SetUnits {
    UnitSystem units = UnitSystem::metric;
};
struct SetScale {
    double scale = 0;
};
struct PutHintsAway {};
struct CloseNotice {};
struct ShowTab {
    int tab = 0;  ///< a Tab
};

using Wish = std::variant<DoEdit, EndGesture, Undo, Redo, Pin, Unpin, Select, SelectNext, Nudge, LookAt,
                          LookFrom, FrameAll, Orbit, Pan, Zoom, SetTurn, Play, SetPace, OpenFile, OpenDemo,
                          DropFile, CancelReading, Save, SaveAs, Reload, Quit, ShowDialog, AnswerDialog,
                          ToggleSkin, SeekPlan, CancelPlan, ShowAnswer, TakeAnswer, ToggleEnvelope,
                          ToggleCooker, SetUnits, SetScale, PutHintsAway, CloseNotice, ShowTab>;

/// What lies over the picture and wants an answer first.
enum class Dialog { none, open, save_as, unsaved, overwrite, recover, changed_outside, help };

enum class Tab { findings, places, figures, plan };

/// Something to tell in passing.
struct Notice {
    enum class Kind { word, refusal, trouble };
    Kind kind = Kind::word;
    std::string text;
    double until_s = 0;
};

/// Everything that is on the table: the load, its answers, how it is looked at, and what is being asked.
/// Knows no window and no drawing; time comes in from outside.
class Desk {
  public:
    struct Surround {
        std::filesystem::path models;
        Storage storage;
        std::function<void()>
            wake;  ///< called from other threads when something is there to see; may be empty
        bool wait_for_work = false;  ///< work is done before anything else goes on: for pictures and tests
    };
    explicit Desk(Surround around);

    /// Reads a load at once and puts it on the table.
    ///
    /// \throws InputError
    void put_on_table(const std::filesystem::path& file);
    /// The first screen: what was not saved when a new load was in hand, else the load opened last, else the
    /// demo.
    void begin();

    void wish(Wish wish) { wishes_.push_back(std::move(wish)); }
    [[nodiscard]] bool has_wishes() const { return !wishes_.empty(); }
    /// Grants what was wished for, looks after work that runs aside, files that change, and the turning load.
    void tick(double now_s);

    [[nodiscard]] bool has_load() const { return session_.has_value(); }
    /// \pre has_load()
    [[nodiscard]] const Session& session() const { return *session_; }
    [[nodiscard]] const Answers& answers() const { return answers_; }
    /// Whether there is a load with an answer to show.
    [[nodiscard]] bool has_answer() const { return has_load() && answers_.any(); }
    [[nodiscard]] const Scene& scene() const { return scene_; }
    [[nodiscard]] std::uint64_t scene_number() const { return scene_number_; }
    /// How near each surface of the cooker comes to the axis, along the rod; see wall_distance().
    [[nodiscard]] const std::vector<std::vector<Vec2>>& walls() const { return walls_; }
    [[nodiscard]] const Settings& settings() const { return settings_; }
    [[nodiscard]] Settings& settings() { return settings_; }
    [[nodiscard]] const Camera& camera() const { return camera_; }
    [[nodiscard]] const TurnPlay& turn() const { return turn_; }
    [[nodiscard]] const Thing& selected() const { return selected_; }
    [[nodiscard]] Dialog dialog() const { return dialog_; }
    [[nodiscard]] Tab tab() const { return tab_; }
    [[nodiscard]] const std::optional<Notice>& notice() const { return notice_; }
    /// What is being read, "" for nothing.
    [[nodiscard]] const std::string& reading() const { return reading_; }
    [[nodiscard]] std::pair<double, std::string> reading_progress() const { return read_job_.progress(); }
    /// Whether a plan is being sought.
    [[nodiscard]] bool planning() const { return plan_job_.running(); }
    [[nodiscard]] std::pair<double, std::string> planning_progress() const { return plan_job_.progress(); }
    [[nodiscard]] const std::optional<Plan>& plan() const { return plan_; }
    /// Whether things were moved since the plan was asked for.
    [[nodiscard]] bool plan_is_stale() const { return has_load() && plan_revision_ != session_->revision(); }
    /// The answer being looked at. \pre plan()
    [[nodiscard]] std::size_t shown_answer() const { return shown_answer_; }
    [[nodiscard]] bool shows_envelope() const { return envelope_; }
    [[nodiscard]] bool shows_cooker() const { return cooker_; }
    [[nodiscard]] bool ended() const { return ended_; }
    [[nodiscard]] const std::filesystem::path& asked_file() const { return asked_file_; }
    /// Which of the first screen's three steps are done.
    [[nodiscard]] const std::array<bool, 3>& steps_done() const { return steps_done_; }
    /// Whether something moves or will change by itself, so that drawing must go on.
    [[nodiscard]] bool lively() const { return turn_.playing && has_answer(); }
    /// How long nothing need be looked at, s.
    [[nodiscard]] double patience_s() const;
    [[nodiscard]] std::string title() const;

    /// Tells of something typed that could not be understood.
    void tell_trouble(std::string text) { tell(Notice::Kind::trouble, std::move(text)); }

    /// The part of the picture that shows the scene; "frame all" depends on it.
    void set_area(const Area& area);

  private:
    struct Read {
        Assembly assembly;
        std::string text;
        std::filesystem::path file;       ///< "" for a load that was never saved
        std::filesystem::path stands_in;  ///< where paths in it count from
        std::string words;                ///< what there is to tell of it
    };
    struct Granter;

    static Read read_file(const std::filesystem::path& file, const std::filesystem::path& models);
    static Read read_scan(const std::filesystem::path& file, const std::filesystem::path& models,
                          JobControl& control);
    void start_reading(std::filesystem::path file, std::function<Read(JobControl&)> work);
    void take_reading();
    void seek_plan();
    void take_plan();
    void load_read(Read read);
    void open(const std::filesystem::path& file);
    void drop(const std::filesystem::path& file);
    /// Does something that lets go of the load: at once, or when the question about unsaved changes is
    /// answered.
    void unless_unsaved(std::function<void()> then);
    bool save_to(const std::filesystem::path& file);
    void answer(AnswerDialog::Choice choice);
    void refresh();
    void watch_file();
    void tell(Notice::Kind kind, std::string text);
    void frame_all();

    Surround around_;
    Settings settings_;
    std::vector<Wish> wishes_;
    std::optional<Session> session_;
    std::filesystem::path stands_in_;
    Answers answers_;
    SceneMaker maker_;
    Scene scene_;
    std::vector<std::vector<Vec2>> walls_;
    std::uint64_t scene_number_ = 0;
    std::uint64_t shown_revision_ = 0;
    Camera camera_;
    Area area_{0, 0, 800, 600};
    TurnPlay turn_;
    Thing selected_;
    Dialog dialog_ = Dialog::none;
    Tab tab_ = Tab::findings;
    std::optional<Notice> notice_;
    Job<Read> read_job_;
    std::string reading_;
    Job<Plan> plan_job_;
    std::optional<Plan> plan_;
    std::uint64_t plan_revision_ = 0;
    std::size_t shown_answer_ = 0;
    std::function<void()> after_question_;
    std::filesystem::path asked_file_;
    std::optional<Setting> recovered_;
    std::optional<std::filesystem::file_time_type> file_time_;
    std::uint64_t kept_revision_ = 0;
    double now_s_ = 0, watched_s_ = 0, kept_s_ = 0;
    bool envelope_ = true, cooker_ = true, ended_ = false, frame_wanted_ = false;
    std::array<bool, 3> steps_done_{};
};

/// The load file of the first screen.
std::string_view demo_load();

/// A body that lies in a file of its own, for a new load.
struct ScanForLoad {
    std::filesystem::path file;
    std::string unit{};           ///< for `scan_unit`, "" where the format tells or it is metres
    bool own_frame = false;       ///< its axes are an item's already; else they are found
    double from_m = 0, to_m = 0;  ///< its first and last station at 340 mm, for the forks; equal: no forks
};

/// The ending of a name in lower case: ".toml"; "" if it has none.
std::string ending_of(const std::filesystem::path& file);

/// A load file for a scan on its own: a usual rod, motor and cooker, the scan in the middle, a fork at each
/// end.
std::string load_for_scan(const ScanForLoad& scan);

/// What a raw scan became.
struct CleanedScan {
    std::filesystem::path body;  ///< a closed mesh beside the scan, metres, item frame
    std::string words;           ///< what was done, for the cook
};

/// Makes a closed body of a rough scan and writes it beside the scan, under a name that was free.
///
/// \param stage told what is being done, as it begins; may throw to stop the work
/// \throws InputError if the scan cannot be used, or its folder takes no files
CleanedScan clean_scan(const std::filesystem::path& scan, const std::function<void(std::string_view)>& stage);

}  // namespace evenspit::viewer
