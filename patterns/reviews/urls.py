"""The reader's addresses, open without an account. Mounted at /review/."""

from django.urls import URLPattern, URLResolver, path, re_path

from patterns.reviews import report_views, views

app_name = "review"

urlpatterns: list[URLPattern | URLResolver] = [
    path("open/<str:token>/", views.opening, name="open"),
    path("<int:review_id>/", views.draft, name="draft"),
    path("<int:review_id>/line/<int:line>/", views.remark, name="remark"),
    path("<int:review_id>/remark/<int:remark_id>/", views.own_remark, name="own_remark"),
    path("<int:review_id>/sheet/", views.sheet, name="sheet"),
    path("<int:review_id>/draft.pdf", views.paper, name="paper"),
    path("<int:review_id>/report/", report_views.report, name="report"),
    path("<int:review_id>/report/photos/", report_views.report_photos, name="report_photos"),
    path("<int:review_id>/finish/", views.finish, name="finish"),
    re_path(
        r"^(?P<review_id>[0-9]{1,12})/photo/(?P<digest>[0-9a-f]{40})/(?P<width>[0-9]{1,4})\.(?P<suffix>webp|jpg)$",
        views.photo,
        name="photo",
    ),
]
