/* Solves the oxidation variants with SUNDIALS CVODE, apart from the program.
 *
 *   cc -O2 variants.c -o variants -lsundials_cvode -lsundials_nvecserial -lm
 *   ./variants < drawn.csv > oxidation_variants.csv     answers at 1e-11
 *   ./variants -rough < drawn.csv                       answers at 1e-6
 *   ./variants -time < drawn.csv                        microseconds at 1e-6
 *
 * Each line holds the coefficients and the start, then gets its answers at
 * 1,800 s. Amounts are mol/L, alkalinity eq/L. Chlorine meets sulfide at once.
 */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <time.h>

enum { FE, FES, MN, MNS, O2, CL, NCL, N, S, SUL, N2, TA, STATES };
enum {
    PLAIN, OH, FLOC, FLOCSURF, IRONCL, CHLORAMINE, BREAKPOINT, MNCL, MNOXIDE, MNSITES, MNSURF, SITEK,
    MNO2, MNO2SITES, SULFO2, K1, K2, KW, INVG, KC, KN, KS, CARBON, START, INPUTS = START + STATES
};

static double in[INPUTS], lnh;

static double activity(const double *c) {
    for (int i = 0; i < 100; i++) {
        double h = exp(lnh), d = h * h + in[K1] * h + in[K1] * in[K2];
        double a0 = h * h / d, a1 = in[K1] * h / d, a2 = in[K1] * in[K2] / d;
        double xc = in[KC] / (in[KC] + h), xs = in[KS] / (in[KS] + h), xn = in[KN] / (in[KN] + h);
        double alk = in[CARBON] * (a1 + 2 * a2) + in[KW] / h - h * in[INVG] + c[CL] * xc + c[S] * xs + c[N] * xn;
        double slope = -in[CARBON] * (a1 * a0 + 4 * a0 * a2 + a1 * a2) - in[KW] / h - h * in[INVG]
            - c[CL] * xc * (1 - xc) - c[S] * xs * (1 - xs) - c[N] * xn * (1 - xn);
        double step = (alk - c[TA]) / slope;
        if (step > 1) step = 1;
        if (step < -1) step = -1;
        lnh -= step;
        if (fabs(step) < 1e-14) break;
    }
    return exp(lnh);
}

static int rates(realtype t, N_Vector y, N_Vector f, void *user) {
    const double *c = N_VGetArrayPointer(y);
    double *d = N_VGetArrayPointer(f), h = activity(c);
    double hocl = c[CL] * h / (in[KC] + h), nh3 = c[N] * in[KN] / (in[KN] + h);
    double air = (in[PLAIN] + in[OH] / (h * h) + in[FLOC] * (c[FES] + in[FLOCSURF]) / h) * c[O2] * c[FE];
    double cl = in[IRONCL] * c[FE] * hocl;
    double nh = in[CHLORAMINE] * hocl * nh3;
    double br = in[BREAKPOINT] * hocl * c[NCL];
    double mc = ((in[MNCL] + in[MNOXIDE] * c[MNS]) * hocl
        + in[MNSITES] * in[SITEK] / (in[SITEK] + h) * (c[MNS] + in[MNSURF]) * c[CL]) * c[MN];
    double mo = (in[MNO2] / (h * h) + in[MNO2SITES] / h * (c[MNS] + in[MNSURF])) * c[O2] * c[MN];
    double so = in[SULFO2] * pow(h, -0.16) * c[S] * c[O2];
    d[FE] = -air - cl;
    d[FES] = air + cl;
    d[MN] = -mc - mo;
    d[MNS] = mc + mo;
    d[O2] = -air / 4 - mo / 2 - so / 2;
    d[CL] = -cl / 2 - nh - br / 2 - mc;
    d[NCL] = nh - br;
    d[N] = -nh;
    d[S] = -so;
    d[SUL] = so;
    d[N2] = br;
    d[TA] = -2 * air - 2.5 * cl - nh - 1.5 * br - 3 * mc - 2 * mo;
    return 0;
}

static void solve(double rtol, double atol, double *out) {
    SUNContext ctx;
    SUNContext_Create(NULL, &ctx);
    N_Vector y = N_VNew_Serial(STATES, ctx);
    double *c = N_VGetArrayPointer(y), s;
    memcpy(c, in + START, STATES * sizeof *c);
    s = fmin(c[S], c[CL]);
    c[S] -= s, c[CL] -= s, c[SUL] += s, c[TA] -= s;
    lnh = log(1e-7);
    activity(c);
    SUNMatrix a = SUNDenseMatrix(STATES, STATES, ctx);
    SUNLinearSolver ls = SUNLinSol_Dense(y, a, ctx);
    void *cv = CVodeCreate(CV_BDF, ctx);
    realtype t;
    CVodeInit(cv, rates, 0, y);
    CVodeSStolerances(cv, rtol, atol);
    CVodeSetLinearSolver(cv, ls, a);
    CVodeSetMaxNumSteps(cv, 10000000);
    int e = CVode(cv, 1800, y, &t, CV_NORMAL);
    if (e < 0) fprintf(stderr, "CVODE %d\n", e), exit(1);
    memcpy(out, c, STATES * sizeof *out);
    out[STATES] = -log10(activity(c));
    CVodeFree(&cv);
    SUNLinSolFree(ls);
    SUNMatDestroy(a);
    N_VDestroy(y);
    SUNContext_Free(&ctx);
}

static int up(const void *a, const void *b) {
    double d = *(const double *)a - *(const double *)b;
    return (d > 0) - (d < 0);
}

int main(int argc, char **argv) {
    static double took[10000];
    char line[8192];
    int timing = argc > 1 && !strcmp(argv[1], "-time"), n = 0;
    int rough = argc > 1 && !strcmp(argv[1], "-rough");
    while (fgets(line, sizeof line, stdin)) {
        char *p = line, *end;
        double out[STATES + 1];
        line[strcspn(line, "\r\n")] = 0;
        if (line[0] == '#') {
            if (!timing) puts(line);
            continue;
        }
        for (int i = 0; i < INPUTS; i++, p = end + 1) in[i] = strtod(p, &end);
        if (timing) {
            double best = 1e9;
            for (int k = 0; k < 20; k++) {
                struct timespec a, b;
                clock_gettime(CLOCK_MONOTONIC, &a);
                solve(1e-6, 1e-14, out);
                clock_gettime(CLOCK_MONOTONIC, &b);
                best = fmin(best, 1e6 * (b.tv_sec - a.tv_sec) + 1e-3 * (b.tv_nsec - a.tv_nsec));
            }
            took[n++] = best;
            continue;
        }
        solve(rough ? 1e-6 : 1e-11, rough ? 1e-14 : 1e-18, out);
        *end = 0;
        fputs(line, stdout);
        for (int i = 0; i <= STATES; i++) printf(",%.12g", out[i]);
        puts("");
    }
    if (timing) {
        qsort(took, n, sizeof *took, up);
        printf("%d solves: median %.0f us, 95th percentile %.0f us, most %.0f us\n", n, took[n / 2], took[n * 95 / 100], took[n - 1]);
    }
    return 0;
}
