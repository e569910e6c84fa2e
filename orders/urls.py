from django.urls import URLPattern, URLResolver, path

from orders.views import batch_acts, batches, fair_plan, fairs, home, piece_form, pieces, tags, timer

app_name = "orders"

urlpatterns: list[URLPattern | URLResolver] = [
    path("", home.overview, name="overview"),
    path("rates/", home.rates, name="rates"),
    path("labels/", tags.label_profile_page, name="labels"),
    path("pieces/", pieces.piece_list, name="pieces"),
    path("pieces/new/", piece_form.piece_new, name="piece_new"),
    path("pieces/<int:pk>/", pieces.piece, name="piece"),
    path("pieces/<int:pk>/edit/", piece_form.piece_edit_page, name="piece_edit"),
    path("pieces/<int:pk>/price/", pieces.price, name="piece_price"),
    path("batches/", batches.batch_list, name="batches"),
    path("batches/new/", batches.batch_new, name="batch_new"),
    path("batches/<slug:code>/", batches.batch, name="batch"),
    path("batches/<slug:code>/edit/", batches.batch_edit_page, name="batch_edit"),
    path("batches/<slug:code>/sheet/", batches.batch_sheet, name="batch_sheet"),
    path("batches/<slug:code>/tags/", tags.tags, name="batch_tags"),
    path("batches/<slug:code>/start/", batch_acts.start, name="batch_start"),
    path("batches/<slug:code>/reserve/", batch_acts.reserve, name="batch_reserve"),
    path("batches/<slug:code>/take/", batch_acts.take, name="batch_take"),
    path("batches/<slug:code>/time/", batch_acts.time, name="batch_time"),
    path("batches/<slug:code>/time/<int:pk>/out/", batch_acts.time_out, name="batch_time_out"),
    path("batches/<slug:code>/finish/", batch_acts.finish, name="batch_finish"),
    path("batches/<slug:code>/cancel/", batch_acts.cancel, name="batch_cancel"),
    path("batches/<slug:code>/lesson/", batch_acts.lesson, name="batch_lesson"),
    path("timer/", timer.timer, name="timer"),
    path("timer/start/", timer.start, name="timer_start"),
    path("timer/pause/", timer.pause, name="timer_pause"),
    path("timer/stop/", timer.stop, name="timer_stop"),
    path("timer/discard/", timer.discard, name="timer_discard"),
    path("fairs/", fairs.fair_list, name="fairs"),
    path("fairs/new/", fairs.fair_new, name="fair_new"),
    path("fairs/<int:pk>/", fairs.fair, name="fair"),
    path("fairs/<int:pk>/strike/", fairs.fair_strike, name="fair_strike"),
    path("fairs/<int:pk>/plan/", fair_plan.fair_plan, name="fair_plan"),
    path("fairs/<int:pk>/result/", fair_plan.fair_result, name="fair_result"),
    path("fairs/<int:pk>/edit/", fairs.fair_edit_page, name="fair_edit"),
]
